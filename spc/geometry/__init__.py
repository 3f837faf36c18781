"""From gauge to size: what a reading over pins, over wires or of a form says, and what moves it."""

from spc.geometry.ball_groove import BallGroove, OverBalls, groove_from_over_balls, over_balls
from spc.geometry.best_pin import best_pin_mm
from spc.geometry.blank import Blank, spline_blank, thread_blank, worm_blank
from spc.geometry.bow import Bow, bow_from_run_out, bow_from_turn, bow_of_radius
from spc.geometry.flank_wear import FlankWear, wear_over_balls, wear_over_pins, wear_over_wires
from spc.geometry.gain_of_form import gain_of_form
from spc.geometry.gauged_groove import refuse_no_groove
from spc.geometry.gauged_size import best_element_mm, gauge_from_size, size_from_gauge
from spc.geometry.inch_spline import inch_pin_mm, inch_spline, inch_tolerances
from spc.geometry.involute import inverse_involute, involute
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.iso_spline import iso_spline, iso_total_tolerance_um
from spc.geometry.known import FROM_MEMORY, NOT_DEFINED, NOT_KNOWN, READ, Known
from spc.geometry.metric_thread_limits import MetricThreadLimits, metric_thread_limits
from spc.geometry.nominal_lead import DepthDeviation, NominalLead, depth_deviation, less_meant, nominal_lead
from spc.geometry.over_pins import OverPins, over_pins, thickness_from_over_pins
from spc.geometry.over_wires import (
    OverWires,
    best_wire_mm,
    over_wires,
    pitch_diameter_over_wires,
    refuse_hidden_wires,
)
from spc.geometry.pitch_deviation import PitchDeviations, pitch_deviations
from spc.geometry.slide_change import SlideChange, over_pin_change_mm, slide_changes
from spc.geometry.slide_gain import SlideGain, first_slide_gain, involute_gain
from spc.geometry.span import Span, best_span_teeth, span_over_teeth, thickness_from_span
from spc.geometry.spline_limits import OverPinLimits, SplineLimits, over_pin_limits
from spc.geometry.start_angle import StartAngles, angle_from, near_nominal_deg, start_angles
from spc.geometry.straightness import Straightness, straightness
from spc.geometry.temperature import STEEL_PER_K, SizeAt20, size_at_20
from spc.geometry.thickness_uncertainty import ThicknessUncertainty, thickness_uncertainty
from spc.geometry.travel import Travel, travel
from spc.geometry.travel_grade import JudgedGrade, TravelGrade, travel_grade
from spc.geometry.travel_tolerances import (
    GRADES,
    TravelTolerances,
    excess_travel_mm,
    readings_needed,
    travel_tolerances,
)
from spc.geometry.warm_gauging import WarmUncertainty, warm_uncertainty
from spc.geometry.wire_contact import resting_radius_mm
from spc.geometry.worm import Worm
from spc.geometry.worm_over_wires import WormOverWires, worm_over_wires, worm_thickness_over_wires

__all__ = [
    "BallGroove",
    "OverBalls",
    "groove_from_over_balls",
    "over_balls",
    "best_pin_mm",
    "inch_pin_mm",
    "inch_spline",
    "inch_tolerances",
    "inverse_involute",
    "involute",
    "InvoluteTeeth",
    "iso_spline",
    "iso_total_tolerance_um",
    "FROM_MEMORY",
    "NOT_DEFINED",
    "NOT_KNOWN",
    "READ",
    "Known",
    "MetricThreadLimits",
    "metric_thread_limits",
    "DepthDeviation",
    "NominalLead",
    "depth_deviation",
    "less_meant",
    "nominal_lead",
    "OverPins",
    "over_pins",
    "thickness_from_over_pins",
    "OverWires",
    "best_wire_mm",
    "over_wires",
    "pitch_diameter_over_wires",
    "refuse_hidden_wires",
    "SlideGain",
    "first_slide_gain",
    "involute_gain",
    "Span",
    "best_span_teeth",
    "span_over_teeth",
    "thickness_from_span",
    "OverPinLimits",
    "SplineLimits",
    "over_pin_limits",
    "Straightness",
    "straightness",
    "STEEL_PER_K",
    "SizeAt20",
    "size_at_20",
    "Travel",
    "travel",
    "JudgedGrade",
    "TravelGrade",
    "travel_grade",
    "GRADES",
    "TravelTolerances",
    "excess_travel_mm",
    "readings_needed",
    "travel_tolerances",
    "resting_radius_mm",
    "Worm",
    "WormOverWires",
    "worm_over_wires",
    "worm_thickness_over_wires",
    "Blank",
    "spline_blank",
    "thread_blank",
    "worm_blank",
    "Bow",
    "bow_from_run_out",
    "bow_from_turn",
    "bow_of_radius",
    "FlankWear",
    "wear_over_balls",
    "wear_over_pins",
    "wear_over_wires",
    "PitchDeviations",
    "pitch_deviations",
    "SlideChange",
    "over_pin_change_mm",
    "slide_changes",
    "StartAngles",
    "angle_from",
    "near_nominal_deg",
    "start_angles",
    "ThicknessUncertainty",
    "thickness_uncertainty",
    "WarmUncertainty",
    "warm_uncertainty",
    "best_element_mm",
    "gain_of_form",
    "gauge_from_size",
    "refuse_no_groove",
    "size_from_gauge",
]
