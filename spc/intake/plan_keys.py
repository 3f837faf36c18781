"""Every key a plan may carry, table by table; keys of later work are accepted from the start."""

from typing import Final

__all__ = ["ALLOWED", "GEOMETRY", "ONLY_GAUGED", "PIECE_VALUES", "RESULTS"]

GEOMETRY: Final = ("geometry", "spline", "thread", "worm", "groove")
"""Tables below a characteristic that say what its gauge touches; their own keys are free."""

WARM: Final = ("length", "expansion_per_k", "master_expansion_per_k", "master_as_warm_as_part")
"""Keys that say how a warm reading is brought to 20 °C."""

ALLOWED: Final[dict[str, tuple[str, ...]]] = {
    "": ("part", "plant", "machine", "die_set", "check", "characteristic", "doubt_share", "order_kept"),
    "part": ("id", "description", "form", "doubt_share", "order_kept"),
    "plant": ("zone", "shifts", "removal_words"),
    "machine": ("id", "slide_step_mm", "slides", "display", "largest_move_mm"),
    "die_set": ("correction_travel", "removal_words", "form"),
    "check": (
        "subgroup_size", "interval_minutes", "interval_pieces", "doubt_share", "order_kept", "removal_words",
    ),
    "characteristic": (
        "name", "kind", "unit", "nominal", "lower", "upper", "target", "set_by", "penetration_gain", "limits",
        "minimum_cpk", "wears_with_die", "subgroup_size", "at", "result", "answers", "form", "position",
        "positions", "piece_value", "master_size", *WARM, *GEOMETRY,
    ),
    "characteristic.limits": ("centre", "sigma_within", "signed_by", "signed_at", "judged_by"),
}  # fmt: skip
"""`judged_by` in the limits table says what the word `limits` says where there is no table."""

ONLY_GAUGED: Final = (
    "nominal", "lower", "upper", "target", "set_by", "penetration_gain", "limits", "minimum_cpk",
    "piece_value", "master_size", *WARM, *GEOMETRY,
)  # fmt: skip
"""Keys that mean nothing for a visual look."""

PIECE_VALUES: Final = ("mean", "largest", "smallest")
RESULTS: Final = ("now", "later")
