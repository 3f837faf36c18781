"""Every key a plan may carry, table by table; keys of later work are accepted from the start."""

from typing import Final

__all__ = ["ALLOWED", "GEOMETRY", "ONLY_GAUGED", "PIECE_VALUES", "RESULTS"]

GEOMETRY: Final = ("spline", "thread", "worm", "groove")
"""Tables below a characteristic that say what its gauge touches; one of them a characteristic."""

WARM: Final = ("length", "expansion_per_k", "master_expansion_per_k", "master_as_warm_as_part")
"""Keys that say how a warm reading is brought to 20 °C."""

ALLOWED: Final[dict[str, tuple[str, ...]]] = {
    "": (
        "part", "plant", "machine", "die_set", "check", "costs", "characteristic", "doubt_share", "order_kept",
    ),
    "part": ("id", "description", "form", "doubt_share", "order_kept"),
    "plant": ("zone", "shifts", "breaks", "removal_words"),
    "machine": ("id", "slide_step_mm", "slides", "display", "largest_move_mm"),
    "die_set": ("correction_travel", "removal_words", "form"),
    "check": (
        "subgroup_size", "interval_minutes", "interval_pieces", "doubt_share", "order_kept", "removal_words",
    ),
    "costs": (
        "planned_die_change", "unplanned_die_change", "scrap_per_piece", "spoilt_pieces", "check", "currency",
    ),
    "characteristic": (
        "name", "kind", "unit", "nominal", "lower", "upper", "target", "set_by", "penetration_gain", "limits",
        "minimum_cpk", "wears_with_die", "subgroup_size", "at", "result", "answers", "form", "position",
        "positions", "piece_value", "master_size", "trace", *WARM, *GEOMETRY,
    ),
    "characteristic.spline": (
        "module", "diametral_pitch", "teeth", "pressure_angle_deg", "helix_deg", "pin_mm", "tip_diameter_mm",
        "root_diameter_mm", "form_diameter_mm", "opposite_die", "class", "standard", "fit", "root", "length_mm",
        "tooth_thickness_mm", "tooth_thickness_lower_mm", "tooth_thickness_upper_mm",
    ),
    "characteristic.thread": (
        "pitch_mm", "included_angle_deg", "starts", "wire_mm", "major_diameter_mm", "opposite_die", "class",
        "pitch_diameter_mm", "pitch_diameter_lower_mm", "pitch_diameter_upper_mm",
    ),
    "characteristic.worm": (
        "module", "axial_pitch_mm", "starts", "pressure_angle_deg", "reference_diameter_mm", "profile", "wire_mm",
        "opposite_die", "axial_thickness_mm", "axial_thickness_lower_mm", "axial_thickness_upper_mm",
    ),
    "characteristic.groove": (
        "ball_mm", "lead_mm", "grooves", "arc_radius_mm", "contact_angle_deg", "nominal_lead", "nominal_depth",
        "opposite_die", "ball_circle_mm", "ball_circle_lower_mm", "ball_circle_upper_mm",
    ),
    "characteristic.trace": ("useful_mm", "lead_mm", "over", "line", "least_readings", "nominal_deviation"),
    "characteristic.limits": ("centre", "sigma_within", "signed_by", "signed_at", "judged_by"),
}  # fmt: skip
"""`judged_by` in the limits table says what the word `limits` says where there is no table."""

ONLY_GAUGED: Final = (
    "nominal", "lower", "upper", "target", "set_by", "penetration_gain", "limits", "minimum_cpk",
    "piece_value", "master_size", "trace", *WARM, *GEOMETRY,
)  # fmt: skip
"""Keys that mean nothing for a visual look."""

PIECE_VALUES: Final = ("mean", "largest", "smallest")
RESULTS: Final = ("now", "later")
