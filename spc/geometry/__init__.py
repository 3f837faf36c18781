"""From gauge to size: what a reading over pins, over wires or of a form says, and what moves it."""

from spc.geometry.best_pin import best_pin_mm
from spc.geometry.involute import inverse_involute, involute
from spc.geometry.involute_teeth import InvoluteTeeth
from spc.geometry.over_pins import OverPins, over_pins, thickness_from_over_pins
from spc.geometry.over_wires import OverWires, best_wire_mm, over_wires, pitch_diameter_over_wires
from spc.geometry.slide_gain import SlideGain, first_slide_gain, involute_gain
from spc.geometry.straightness import Straightness, straightness
from spc.geometry.temperature import STEEL_PER_K, SizeAt20, size_at_20
from spc.geometry.wire_contact import resting_radius_mm

__all__ = [
    "InvoluteTeeth",
    "OverPins",
    "over_pins",
    "thickness_from_over_pins",
    "best_pin_mm",
    "involute",
    "inverse_involute",
    "OverWires",
    "over_wires",
    "pitch_diameter_over_wires",
    "best_wire_mm",
    "resting_radius_mm",
    "Straightness",
    "straightness",
    "SizeAt20",
    "STEEL_PER_K",
    "size_at_20",
    "SlideGain",
    "first_slide_gain",
    "involute_gain",
]
