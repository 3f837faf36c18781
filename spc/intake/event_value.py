"""What the value of each event must be."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from spc.intake.nearest import listed, nearest
from spc.intake.number import AS_ALLOWED, NumberStyle, read_between
from spc.intake.problem import Problem
from spc.shop.layouts import EVENTS, REMOVALS

__all__ = ["NUMBERS", "event_name", "event_value"]

NUMBERS: Final = ("penetration", "setting", "gauge_mastered", "machine_stopped")
_IDS: Final = {
    "die_set_mounted": "the die set's id", "die_set_reground": "the die set's id",
    "blank_batch": "the bar batch's id",
}  # fmt: skip
_MEANINGS: Final = {
    "penetration": "the displayed slide setting in mm, larger is deeper, such as 12.348",
    "setting": "the new setting as a number, its name in note",
    "gauge_mastered": "µm: reading on the master minus its value, before re-setting, such as -1.5",
    "machine_stopped": "minutes from the time given, at least 0",
}
_MOST_DIGITS: Final = 12


def event_name(text: str) -> str | Problem:
    """Return the event a text names, or what is wrong with it."""
    small = text.strip().lower()
    if small in EVENTS:
        return small
    reason = "nobody knows this event" if small else "the event is missing"
    return Problem("event", text, reason, listed(EVENTS), nearest(text, EVENTS))


def event_value(
    event: str, text: str, note: str, more_removals: Sequence[str], style: NumberStyle | None
) -> str | Problem:
    """Return the value of an event as the record keeps it, or what is wrong with it.

    Parameters
    ----------
    event : str
        One of `layouts.EVENTS`.
    text, note : str
        As they came.
    more_removals : sequence of str
        Words the plan adds for `die_set_removed`.
    style : {"point", "comma"} or None
        Of the numbers of the file; None where it is open.

    Returns
    -------
    str or Problem
        Numbers with a decimal point, words as the contract spells them, ids as typed.

    Examples
    --------
    >>> event_value("penetration", "12,35", "", (), None)
    '12.35'
    """
    if event in NUMBERS:
        return _number(event, text, note, style)
    if event == "die_set_removed":
        return _removal(text, more_removals)
    if event in _IDS:
        return text or Problem("value", text, "the id is missing", _IDS[event])
    if not text and not note:
        return Problem("value", text, f"{event} says nothing", "pieces or text, in value or note")
    return text


def _number(event: str, text: str, note: str, style: NumberStyle | None) -> str | Problem:
    value = read_between(text, style)
    if isinstance(value, str):
        return Problem("value", text, value, f"{AS_ALLOWED}: {_MEANINGS[event]}")
    if abs(value) >= Decimal(10) ** _MOST_DIGITS:
        return Problem("value", text, "this number is too large to be meant", _MEANINGS[event])
    if event == "machine_stopped" and value < 0:
        return Problem("value", text, "a stop cannot last less than nothing", _MEANINGS[event])
    if event == "setting" and not note:
        reason = "nobody can tell which setting this is"
        return Problem("note", note, reason, "the setting's name: dwell_s, tilt_deg, blade_mm, …")
    return format(value, "f")


def _removal(text: str, more_removals: Sequence[str]) -> str | Problem:
    words = {word.lower(): word for word in (*more_removals, *REMOVALS)}
    found = words.get(text.lower())
    if found is not None:
        return found
    allowed = (*REMOVALS, *more_removals)
    reason = "no die set comes off for this reason" if text else "why it came off is missing"
    return Problem("value", text, reason, listed(allowed), nearest(text, allowed))
