"""How a comparison is said: what its groups are called, what stands behind them, and why nothing can be told."""

from collections.abc import Sequence
from typing import Final

from spc.shop.names import shop_name
from spc.station.compare_groupings import BY_LIFE, SETTING

__all__ = [
    "counted_as",
    "group_said",
    "groups_called",
    "nothing_to_compare",
    "setting_words",
    "what_is_in_it",
]

_SAID: Final[dict[str, str]] = {
    "shift": "the shift from {}",
    "machine": "{}",
    "die_set": "die set {}",
    "die_design": "die design {}",
    "batch": "bar batch {}",
    "gauge": "gauge {}",
    "person": "what {} gauged",
}
_CALLED: Final[dict[str, str]] = {
    "shift": "shifts",
    "machine": "machines",
    "die_set": "die sets",
    "regrind": "kinds of die life, new or reground",
    "die_design": "die designs",
    "batch": "bar batches",
    "gauge": "gauges",
    "person": "people",
}
_IN_IT: Final[dict[str, str]] = {
    "shift": "Slide, gauge, warmth and bars of these hours are all in it.",
    "machine": "The dies and the gauge of each machine are in it.",
    "die_set": "Slide moves are in it: a set that was followed with the slide shows less than it does itself.",
    "regrind": "Slide moves and machines are in it; a set counts as new where the record holds no regrind of it.",
    "die_design": "Slide moves, machines and regrinds are in it.",
    "batch": "Slide moves and the growth of the dies meanwhile are in it, as batches follow one another.",
    "gauge": "Gauges follow one another: the hours, bars and people of each are in it.",
    "person": "This speaks of gauge, hours and machine as much as of a hand: look at the gauge first.",
}
_OF_A_SETTING: Final = "A setting is rarely changed alone: dies, bars and hours of each value are in it."
_NOT_NAMED: Final[dict[str, str]] = {
    "gauge": "Which gauge was used is not in the record, only which characteristic was set on the master: write the "
    "gauge's number into the note when it is set on its master, behind the characteristic (“over_pin G-12”).",
    "die_design": "The record names no design: write “design” and its name into the note when a die set is mounted "
    "(“design B”).",
    "person": "Nobody signed these checks: type initials with each check.",
    "batch": "No bar batch was logged: log each with its first piece.",
    "die_set": "No die set was logged: log each when it is mounted.",
    "regrind": "No die set was logged: log each when it is mounted, and when it was reground.",
}
_UNITS: Final = {
    "s": "s",
    "mm": "mm",
    "min": "min",
    "bar": "bar",
    "rpm": "rpm",
    "deg": "°",
    "kn": "kN",
    "c": "°C",
}


def group_said(by: str, name: str) -> str:
    """Return a group for the middle of a sentence.

    Examples
    --------
    >>> group_said("regrind", "1"), group_said("setting:dwell_s", "1.4"), group_said("shift", "22:00")
    ('a set after its first regrind', 'dwell 1.4 s', 'the shift from 22:00')
    """
    if by.startswith(SETTING):
        what, unit = setting_words(by)
        return f"{what} {name} {unit}".rstrip()
    if by == "regrind":
        known = {
            "0": "a new set",
            "1": "a set after its first regrind",
            "2": "a set after its second regrind",
        }
        return known.get(name, f"a set after {name} regrinds")
    return _SAID[by].format(name)


def groups_called(by: str) -> str:
    """Return what the groups are, in the plural.

    Examples
    --------
    >>> groups_called("batch"), groups_called("setting:dwell_s")
    ('bar batches', 'values of dwell')
    """
    return _CALLED.get(by) or f"values of {setting_words(by)[0]}"


def counted_as(by: str) -> str:
    """Return what counts as one."""
    return "die lives" if by in BY_LIFE else "shifts worked"


def what_is_in_it(by: str, starts: Sequence[set[str]], *, beside_wear: bool) -> str:
    """Return what a difference holds besides.

    Parameters
    ----------
    starts : sequence of set of str
        Starts of the shifts in which each group was gauged: people of one shift each are that shift as well.
    beside_wear : bool
        Slide moves and growth of the dies were taken out.
    """
    said = _IN_IT.get(by, _OF_A_SETTING)
    if beside_wear:
        said = {
            "shift": "Gauge, warmth and bars of these hours are in it.",
            "batch": "Gauge and hours of each batch are in it.",
        }.get(by, said)
    if by == "person" and all(len(each) == 1 for each in starts) and len(set.union(*starts)) > 1:
        said += " Each worked one shift of the day only, so people and shifts cannot be told apart."
    return said


def nothing_to_compare(by: str, groups: int, *, named: bool) -> str:
    """Say what is missing for a comparison.

    Parameters
    ----------
    groups : int
        Groups with enough in them.
    named : bool
        Whether the record names the group of any check.
    """
    if not named and by in _NOT_NAMED:
        return f"Nothing to compare: {_NOT_NAMED[by][0].lower()}{_NOT_NAMED[by][1:]}"
    have = "only one has" if groups else "none has"
    return (
        f"Nothing to compare yet: two {groups_called(by)} with hourly checks in at least 2 {counted_as(by)} "
        f"each are needed, {have} them in this period."
    )


def setting_words(by: str) -> tuple[str, str]:
    """Return name and unit of a setting, for a list to pick from: its note has them in one word.

    Examples
    --------
    >>> setting_words("setting:dwell_s"), setting_words("setting:coolant")
    (('dwell', 's'), ('coolant', ''))
    """
    name = by.removeprefix(SETTING)
    what, _, unit = name.rpartition("_")
    known = _UNITS.get(unit.lower())
    return (shop_name(what), known) if what and known else (shop_name(name), "")
