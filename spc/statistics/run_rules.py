"""Run rules as data, and the one reader that finds them: in a whole record or at its newest point."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite
from typing import Literal

from spc.errors import Refused

__all__ = [
    "RULE_SETS",
    "RunFinding",
    "RunRule",
    "find_runs",
    "last_point_findings",
    "longest_window",
    "rule_set",
]

Pattern = Literal["one_side", "trend", "alternating", "inside", "outside"]

TIE = 1e-9
"""Standard deviations closer than which a point counts as on a line: far below any gauge, above rounding."""


@dataclass(frozen=True, slots=True)
class RunRule:
    """One pattern that chance seldom draws.

    Attributes
    ----------
    key : str
        Name in records and code; the screen says `words`.
    words : str
        The rule as a shop would say it.
    pattern : {"one_side", "trend", "alternating", "inside", "outside"}
        Same side beyond the zone; steadily up or down; up and down in turn; within the zone on either side;
        beyond the zone on either side.
    window : int
        Points looked at, the newest included.
    count : int
        Points of the window that must show it; the newest always must.
    zone : float
        Distance from the centre in standard deviations of the plotted point; 0 is the centre itself.
    """

    key: str
    words: str
    pattern: Pattern
    window: int
    count: int
    zone: float = 0.0


@dataclass(frozen=True, slots=True)
class RunFinding:
    """A pattern that a point completes.

    Attributes
    ----------
    index : int
        The completing point, from 1.
    rule : str
        Key of the rule; ``beyond_limits`` is the plain control limit.
    says : str
        What stands there, with its number.
    """

    index: int
    rule: str
    says: str


BEYOND_LIMITS = RunRule("beyond_limits", "one point beyond the control limits", "one_side", 1, 1, 3.0)
TWO_OF_THREE = RunRule("two_of_three", "two of three points beyond 2 σ on one side", "one_side", 3, 2, 2.0)
FOUR_OF_FIVE = RunRule("four_of_five", "four of five points beyond 1 σ on one side", "one_side", 5, 4, 1.0)
SEVEN_ON_ONE_SIDE = RunRule("seven_on_one_side", "seven points in a row on one side", "one_side", 7, 7)
EIGHT_ON_ONE_SIDE = RunRule("eight_on_one_side", "eight points in a row on one side", "one_side", 8, 8)
NINE_ON_ONE_SIDE = RunRule("nine_on_one_side", "nine points in a row on one side", "one_side", 9, 9)
SIX_TREND = RunRule("six_trend", "six points in a row rising or falling", "trend", 6, 6)
SEVEN_TREND = RunRule("seven_trend", "seven points in a row rising or falling", "trend", 7, 7)
FOURTEEN_ALTERNATING = RunRule(
    "fourteen_alternating", "fourteen points up and down in turn", "alternating", 14, 14
)
FIFTEEN_INSIDE = RunRule("fifteen_inside", "fifteen points in a row within 1 σ", "inside", 15, 15, 1.0)
EIGHT_OUTSIDE = RunRule("eight_outside", "eight points in a row, none within 1 σ", "outside", 8, 8, 1.0)

RULE_SETS: dict[str, tuple[RunRule, ...]] = {
    "none": (BEYOND_LIMITS,),
    "house": (BEYOND_LIMITS, NINE_ON_ONE_SIDE),
    "we1956": (BEYOND_LIMITS, TWO_OF_THREE, FOUR_OF_FIVE, EIGHT_ON_ONE_SIDE),
    "nelson1984": (
        BEYOND_LIMITS,
        NINE_ON_ONE_SIDE,
        SIX_TREND,
        FOURTEEN_ALTERNATING,
        TWO_OF_THREE,
        FOUR_OF_FIVE,
        FIFTEEN_INSIDE,
        EIGHT_OUTSIDE,
    ),
    "iso7870": (BEYOND_LIMITS, SEVEN_ON_ONE_SIDE, SEVEN_TREND),
}
"""The named sets; every one holds the control limits themselves.

``none``
    No rule besides the limits: a false alarm in 370 checks.
``house``
    Limits and nine in a row on one side: a false alarm in 216.7 checks (`rules_law`), where the four
    tests of 1956 raise one in 91.8. A shop that hourly checks call too often stops coming; nine in a row (the
    length of Nelson 1984) still finds a shift of one standard deviation of the mean in 17 checks, not 44.
    Trends belong to the wear model, which knows what the slide did.
``we1956``
    The four zone tests of the Western Electric handbook (1956), as quoted in teaching texts.
``nelson1984``
    Nelson, J. Quality Technology 16(4) 237-239, eight tests (from memory); ISO 8258:1991 has the same.
``iso7870``
    The numeric patterns of ISO 7870-2:2013 clause 8 (from memory; the 2023 list could not be checked).
"""


def find_runs(z: Sequence[float], rules: Sequence[RunRule]) -> tuple[RunFinding, ...]:
    """Every point of a record that completes a pattern, for a review.

    Parameters
    ----------
    z : sequence of float
        Distances from the centre in standard deviations of the plotted point, oldest first.
    rules : sequence of RunRule
        For instance ``RULE_SETS["house"]``.

    Returns
    -------
    tuple of RunFinding
        By point, then in the order of the rules. A pattern that goes on is found again at each further point.

    Notes
    -----
    A point on a line counts as not beyond it, one on the centre as on neither side, two equal neighbours as
    neither rising nor falling; "on" is within 1e-9 standard deviations. The completing point itself lies in
    the zone. "None within 1 σ" is met on one side as well as on both.

    Examples
    --------
    >>> find_runs([0.1, 3.4, 0.2], RULE_SETS["none"])
    (RunFinding(index=2, rule='beyond_limits', says='3.40 σ above the centre, beyond the limit at 3 σ'),)
    """
    _want_numbers(z)
    span = longest_window(rules)
    findings: list[RunFinding] = []
    for end in range(1, len(z) + 1):
        window = z[max(0, end - span) : end]
        for rule in rules:
            says = _completes(window, rule)
            if says:
                findings.append(RunFinding(end, rule.key, says))
    return tuple(findings)


def last_point_findings(z_window: Sequence[float], rules: Sequence[RunRule]) -> tuple[RunFinding, ...]:
    """Patterns that the newest point completes: the question of a live check.

    Parameters
    ----------
    z_window : sequence of float
        The newest distances, oldest first; `longest_window` of them are enough, fewer are taken.
    rules : sequence of RunRule
        For instance ``RULE_SETS["house"]``.

    Returns
    -------
    tuple of RunFinding
        In the order of the rules, with the last position of the window as index.

    Examples
    --------
    >>> [finding.says for finding in last_point_findings([0.4] * 9, RULE_SETS["house"])]
    ['9 points in a row above the centre']
    """
    if not z_window:
        return ()
    _want_numbers(z_window)
    found = ((rule.key, _completes(z_window, rule)) for rule in rules)
    return tuple(RunFinding(len(z_window), key, says) for key, says in found if says)


def longest_window(rules: Sequence[RunRule]) -> int:
    """Points a live check must remember for these rules."""
    return max((rule.window for rule in rules), default=0)


def rule_set(name: str) -> tuple[RunRule, ...]:
    """The set of that name, or a refusal that lists the names."""
    if name not in RULE_SETS:
        raise Refused.one("no such set of run rules", value=name, allowed=", ".join(RULE_SETS))
    return RULE_SETS[name]


def _want_numbers(z: Sequence[float]) -> None:
    for place, value in enumerate(z, start=1):
        if not isfinite(value):
            raise Refused.one(
                "the point is missing or not finite",
                value=str(value),
                column=f"point {place}",
                do="Leave it out",
            )


def _completes(window: Sequence[float], rule: RunRule) -> str:
    """What the newest point completes, as a sentence; empty where it completes nothing."""
    return _READERS[rule.pattern](window[-rule.window :], rule)


def _one_side(points: Sequence[float], rule: RunRule) -> str:
    newest = points[-1]
    side = 1.0 if newest > 0.0 else -1.0
    beyond = sum(side * value > rule.zone + TIE for value in points)
    if side * newest <= rule.zone + TIE or beyond < rule.count:
        return ""
    where = "above" if side > 0.0 else "below"
    if rule.window == 1:
        return f"{abs(newest):.2f} σ {where} the centre, beyond the limit at {rule.zone:g} σ"
    distance = f"more than {rule.zone:g} σ {where}" if rule.zone else where
    times = (
        f"{rule.count} points in a row"
        if rule.count == rule.window
        else f"{beyond} of the last {len(points)} points"
    )
    return f"{times} {distance} the centre"


def _trend(points: Sequence[float], rule: RunRule) -> str:
    steps = _steps(points)
    if len(points) < rule.window:
        return ""
    for word, side in (("rising", 1.0), ("falling", -1.0)):
        if all(side * step > TIE for step in steps):
            return f"{rule.count} points in a row {word}, by {abs(points[-1] - points[0]):.2f} σ together"
    return ""


def _alternating(points: Sequence[float], rule: RunRule) -> str:
    steps = _steps(points)
    if len(points) < rule.window or any(abs(step) <= TIE for step in steps):
        return ""
    turns = all(before * after < 0.0 for before, after in pairwise(steps))
    return f"{rule.count} points in a row up and down in turn" if turns else ""


def _inside(points: Sequence[float], rule: RunRule) -> str:
    if len(points) < rule.window or any(abs(value) >= rule.zone - TIE for value in points):
        return ""
    return f"{rule.count} points in a row within {rule.zone:g} σ of the centre"


def _outside(points: Sequence[float], rule: RunRule) -> str:
    if len(points) < rule.window or any(abs(value) <= rule.zone + TIE for value in points):
        return ""
    return f"{rule.count} points in a row more than {rule.zone:g} σ from the centre"


def _steps(points: Sequence[float]) -> list[float]:
    return [after - before for before, after in pairwise(points)]


_READERS: dict[Pattern, Callable[[Sequence[float], RunRule], str]] = {
    "one_side": _one_side,
    "trend": _trend,
    "alternating": _alternating,
    "inside": _inside,
    "outside": _outside,
}
