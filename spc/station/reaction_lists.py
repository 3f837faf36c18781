"""The reaction plan as the floor reads it: for each pattern what to look for, in order, and what to do.

Patterns, causes and their order are process knowledge of cold form rolling (common practice, no source).
"""

from dataclasses import dataclass
from typing import Final, Literal

__all__ = [
    "BY_EYE", "EXPECTED_OUT", "GAUGE_FIRST", "PATTERNS", "Pattern", "SETTINGS", "STOP_AND_GAUGE", "STOP_FIRST",
]  # fmt: skip

STOP_FIRST: Final = (
    "No further piece.",
    "Gauge again the pieces at hand.",
    "Stop, lock out, try to start. Then look at the dies and their clamping.",
)
"""Where something seen points at the dies: no piece is rolled, not even to confirm."""

STOP_AND_GAUGE: Final = (
    "No further piece.",
    "Set the gauge for {size} on its master; gauge again the pieces at hand.",
    "Still so: stop, lock out, try to start. Then look at the dies, their clamping and the slide stop.",
)
"""The same where only a gauge has told of it: a gauge that lost its zero shows a step too."""

BY_EYE: Final = ("chip", "flakes", "torn", "open_crest", "look")
"""Patterns that somebody saw on the piece."""

EXPECTED_OUT: Final = "no piece gauged is out of tolerance, but "
"""How a signal begins that speaks of pieces nobody gauged."""

GAUGE_FIRST: Final = (
    "Measure the same piece again, cleaned.",
    "Set the gauge for {size} on its master.",
    "Measure 2 to 4 fresh pieces in a row.",
    "See what changed since the last good check: bars, setting, dies, gauge, person, a long stop.",
)
"""Cheap before dear; only then is a setting touched."""

SETTINGS: Final = {
    "blade": "the blade",
    "tilt": "the tilt of the dies",
    "phase": "match and phase of the dies",
    "dwell": "the dwell",
}
"""What a plan's `set_by` is called, for sizes that the slide does not set."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """One row of the reaction plan.

    Attributes
    ----------
    first : {"stop", "gauge"}
    says : str
        What is seen.
    causes : tuple of str
        In the order in which to look.
    then : tuple of str
        What comes after the list of `first`.
    panel : bool
        Whether a setting may be touched at the panel in the end.
    whole : bool
        Whether the list of `first` comes before; else `then` is all there is to do.
    """

    first: Literal["stop", "gauge"]
    says: str
    causes: tuple[str, ...]
    then: tuple[str, ...]
    panel: bool = False
    whole: bool = True


_BACK = "Check all pieces back to the last good check."

PATTERNS: Final[dict[str, Pattern]] = {
    "chip": Pattern(
        "stop", "a chip mark on the part",
        ("a die tooth chipped or cracked", "something behind a die", "a wrong blank"),
        ("Look at every tooth of both dies.", _BACK),
    ),
    "flakes": Pattern(
        "stop", "flakes or slivers",
        ("blank over size: the die root is full", "slide too deep for worn die crests", "dwell too long",
         "oil poor or low"),
        ("Measure the blanks; go back to the set-up sheet. No deeper.",),
    ),
    "torn": Pattern(
        "stop", "a torn flank",
        ("material picked up on a die flank", "oil poor or low", "scale or dirt on the blank"),
        ("Look at the die flanks; check the oil.",),
    ),
    "open_crest": Pattern(
        "stop", "the crest is not filled",
        ("blank under size", "softer bars", "slide too deep on worn die crests"),
        ("Measure the blanks before anything is set.",),
    ),
    "look": Pattern(
        "stop", "a find by eye", ("a damaged die", "blank or bars", "oil"), (_BACK,),
    ),
    "step": Pattern(
        "stop", "a step that nothing logged explains",
        ("a die tooth chipped", "a die slipped, along or around its spindle", "the slide stop moved",
         "the slide's zero lost", "something behind a die", "a wrong blank"),
        (_BACK,),
    ),
    "lead_step": Pattern(
        "stop", "a step that nothing logged explains",
        ("the tilt moved", "dies fitted again", "dies out of match", "a wrong die", "the piece gauged warm"),
        ("Compare match and tilt with the set-up sheet; then a first-off again.",),
    ),
    "round_step": Pattern(
        "stop", "a jump that nothing logged explains",
        ("a die tooth chipped", "die run-out or clamping", "a spindle bearing", "dwell too short"),
        (_BACK,),
    ),
    "jumped": Pattern(
        "stop", "the size has jumped, and the pieces differ more",
        ("a die tooth chipped or cracked", "a die or its clamping loose", "play in the gib or the spindle",
         "hardness within the bars"),
        ("No further piece.", "Look at every flank of the pieces at hand for a mark.",
         "No mark: set the gauge for {size} on its master; gauge them again.",
         "A mark, or still so: stop, lock out, try to start. Then look at every tooth of both dies.", _BACK),
        whole=False,
    ),
    "faster": Pattern(
        "stop", "growth per 1,000 pieces has jumped",
        ("the dies in their last stretch", "a harder bar batch", "oil dirty or low", "the die surface breaking out"),
        ("Check more often from here; a slide move alone would hide it.",),
    ),
    "clash": Pattern(
        "gauge", "no slide setting serves all sizes",
        ("the dies worn apart", "dies matched or set wrongly", "a wrong die"),
        ("Leave the slide. Compare match and phase with the set-up sheet; book the die change.",),
    ),
    "slide_log": Pattern(
        "gauge", "a logged slide setting that is hard to believe", ("a slip of the fingers",),
        ("Read the panel of the slide.", "Log the setting again."), whole=False,
    ),
    "counter": Pattern(
        "gauge", "a piece counter that is hard to believe",
        ("a slip of the fingers", "the counter was set", "another machine picked"),
        ("Read the counter of the machine.",
         "A slip: strike the check out and type it again. Set: go on, the next check counts from there."), whole=False,
    ),
    "copied": Pattern(
        "gauge", "the same values again", ("values copied", "the gauge sticks", "the gauge is too coarse"),
        ("Gauge a piece again while somebody watches; check the gauge.",), whole=False,
    ),
    "entry": Pattern(
        "gauge", "a value that is hard to believe",
        ("typed wrong", "the gauge read wrong", "another part or machine picked"),
        ("Measure the same piece again, cleaned.", "Compare with what was typed.",
         "Still so: set the gauge for {size} on its master."), whole=False,
    ),
    "set_spread": Pattern(
        "gauge", "the pieces differ more since a setting was changed", ("the setting logged", "another one with it"),
        ("Compare the setting with the set-up sheet; then a first-off again.",
         "Still so: measure one piece five times. Is it the gauge?"),
        panel=True, whole=False,
    ),
    "odd_piece": Pattern(
        "gauge", "one piece apart from the others",
        ("dirt or burr on the piece", "an odd blank", "read or typed wrong"),
        ("Look at the odd piece for a mark. A mark: stop, no further piece.", *GAUGE_FIRST), whole=False,
    ),
    "see_saw": Pattern(
        "gauge", "up and down after slide moves",
        ("moved on single readings", "play in the slide", "a slide step too coarse"),
        ("Leave the slide until the mean of five says so.",),
    ),
    "gauge_zero": Pattern(
        "gauge", "a step that came with the gauge", ("the gauge off its master", "another gauge or person"),
        ("Log what the gauge was off by; gauge again what was gauged since it was last set.",),
    ),
    "batch": Pattern(
        "gauge", "a step that came with new bars", ("harder or softer bars", "blank diameter"),
        ("Only then move the slide: once, by the mean of five.",), panel=True,
    ),
    "setting": Pattern(
        "gauge", "a step that came with a setting", ("the setting logged", "another one with it"),
        ("Compare the setting with the set-up sheet; then a first-off again.",), panel=True,
    ),
    "cold": Pattern(
        "gauge", "the size settles after a start", ("dies, frame and oil warming up",),
        ("Run the warm-up pieces; first-off again when the size stands.",),
    ),
    "spread": Pattern(
        "gauge", "the pieces differ more than before",
        ("hardness within the bars", "dwell too short", "a die, gib or spindle loose", "coolant",
         "the gauge: dirt or a loose pin", "pieces of two machines mixed"),
        ("Measure one piece five times: is it the gauge?",
         "Compare dwell and clamping with the set-up sheet."),
    ),
    "round": Pattern(
        "gauge", "out of round or running out more",
        ("speed or dwell changed", "support height", "a damaged tooth", "die run-out", "spindle bearing"),
        ("Measure at three angles; compare dwell, speed and support with the set-up sheet.",),
    ),
    "straight": Pattern(
        "gauge", "straightness is worse",
        ("blade height or wear", "blade not parallel", "slide askew", "dies of unequal diameter",
         "bent or uneven blanks", "uneven hardness"),
        ("Compare the blade with the set-up sheet; check the blanks before rolling.",),
    ),
    "lead": Pattern(
        "gauge", "the lead drifts",
        ("die temperature", "tilt clamping creeping", "the dies' entry worn", "slip in the feed"),
        ("Compare the tilt with the set-up sheet; check the oil temperature.",),
    ),
    "wavy": Pattern(
        "gauge", "lead or pitch is uneven", ("dies out of match or phase", "dies of unequal diameter"),
        ("Compare match and phase with the set-up sheet.",),
    ),
    "taper": Pattern(
        "gauge", "taper along the face", ("slide askew", "dies worn conical", "blank conical"),
        ("Measure at both ends; put the skew right, not the depth.",), panel=True,
    ),
    "crest": Pattern(
        "gauge", "the crest is low", ("blank under size", "softer bars", "slide too deep on worn die crests"),
        ("Measure the blanks before anything is set.",),
    ),
    "wears": Pattern(
        "gauge", "slow growth, the way wear goes",
        ("die flanks or crests worn", "the frame growing warm", "slide stop creeping", "dirt on the gauge"),
        ("Only then move the slide: once, by the number the station gives.",), panel=True,
    ),
    "against": Pattern(
        "gauge", "slow change against the way wear goes",
        ("still warming up", "softer bars", "gauge or master worn", "slide stop creeping inward"),
        ("See how long the machine has run. No slide move in the first 30 minutes unless pieces are out.",),
    ),
    "out": Pattern(
        "gauge", "outside the tolerance",
        ("the size set too near a limit", "the gauge off its master", "an odd blank"),
        ("Confirmed: sort what is held back, only then move the slide.",), panel=True,
    ),
    "expected": Pattern(
        "gauge", "more pieces outside to expect than the plan lets pass",
        ("the size near a limit", "the gauge off its master", "growth since the last good check"),
        ("Set the gauge for {size} on its master.", "Measure 2 to 4 fresh pieces in a row.",
         "See what changed since the last good check: bars, setting, dies, gauge, person, a long stop.",
         "Confirmed: sort what is held back, only then move the slide."), panel=True, whole=False,
    ),
    "used": Pattern(
        "gauge", "the infeed used up, or nearly", ("the dies are worn",),
        ("Book the die change.", "Look for flakes at every check."), whole=False,
    ),
}  # fmt: skip
"""By name, the more pressing first."""
