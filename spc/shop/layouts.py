"""The column names, plan keys and closed sets of words that files and answers keep for ever."""

from typing import Final, Literal, get_args

__all__ = [
    "CHART_RULES",
    "Display",
    "EVENTS",
    "EVENT_COLUMNS",
    "EVENT_ORDER",
    "KINDS",
    "Kind",
    "LENGTH_UNITS",
    "MAGNITUDES",
    "PURPOSES",
    "READING_COLUMNS",
    "REMOVALS",
    "SET_BY",
    "SIGNED_DEVIATIONS",
    "SignalKind",
    "UNITS",
    "VERDICTS",
    "VerdictWord",
]

READING_COLUMNS: Final = (
    "time", "machine", "part", "characteristic", "piece", "value", "unit", "counter", "operator", "position",
    "temperature_c", "master_temperature_c", "purpose",
)  # fmt: skip
"""Columns of `readings.csv`, long layout; the wide layout has `x1 … xn` for `piece` and `value`."""

EVENT_COLUMNS: Final = ("time", "machine", "part", "event", "value", "note", "counter", "form", "operator")

PURPOSES: Final = ("hourly", "setup", "first_off", "after_move", "confirm", "last_off", "sort", "trial")

UNITS: Final = ("mm", "um", "in", "deg")
LENGTH_UNITS: Final = {"mm": "1", "um": "0.001", "in": "25.4"}
"""Millimetres in one of each unit of length, exact, as text for Decimal."""

Kind = Literal[
    "over_pin_diameter", "over_wire_diameter", "over_ball_diameter", "diameter", "crest_diameter",
    "groove_depth", "wall_thickness", "lead_deviation", "pitch_deviation", "mean_travel_deviation",
    "travel_variation", "straightness", "runout", "out_of_round", "taper", "start_angle", "visual",
]  # fmt: skip
KINDS: Final[tuple[str, ...]] = get_args(Kind)

SIGNED_DEVIATIONS: Final = ("lead_deviation", "pitch_deviation", "mean_travel_deviation", "taper")
"""Deviations with a sign, which want both limits; a taper may also be given as a magnitude."""

MAGNITUDES: Final = ("travel_variation", "straightness", "runout", "out_of_round")
"""Never negative; their natural limit is 0 and they have an upper limit only."""

SET_BY: Final = ("penetration", "tilt", "blade", "phase", "dwell", "none")
AT: Final = ("every", "first_off", "last_off", "shift")

EVENTS: Final = (
    "die_set_mounted", "die_set_reground", "die_set_removed", "penetration", "setting", "blank_batch",
    "gauge_mastered", "machine_stopped", "scrapped", "held", "released", "order", "note",
)  # fmt: skip
EVENT_ORDER: Final = {
    "die_set_removed": 0, "die_set_mounted": 1, "die_set_reground": 2, "blank_batch": 3,
    "gauge_mastered": 4, "machine_stopped": 5, "penetration": 7,
}  # fmt: skip
"""Order at equal time; a check stands at 6, everything not named here at 8."""
CHECK_ORDER: Final = 6
OTHER_ORDER: Final = 8

REMOVALS: Final = ("worn", "chipped", "planned", "part_change", "other")
Display = Literal["deeper_is_larger", "deeper_is_smaller"]

VerdictWord = Literal["run", "watch", "correct", "hold"]
VERDICTS: Final[tuple[str, ...]] = get_args(VerdictWord)
"""From the least to the most serious."""

SignalKind = Literal[
    "out_of_tolerance", "beyond_limits", "run_rule", "step", "drift", "spread", "isolated", "wear_rate",
    "travel_used", "visual", "suspect_entry",
]  # fmt: skip
Cause = Literal[
    "step", "drift", "spread", "odd_piece", "entry", "warm_up", "batch", "gauge_zero", "over_adjustment",
    "wear", "setting", "unknown",
]  # fmt: skip
CHART_RULES: Final = ("none", "house", "we1956", "nelson1984", "iso7870")
