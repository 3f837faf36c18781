"""Run rules as data: what each looks at, which charts it suits, and the named sets."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from spc.errors import Refused
from spc.statistics.suited_rules import ANY_CHART, ORDER_CHARTS, ZONE_CHARTS, Plotted

__all__ = ["BEYOND_LIMITS", "RULE_SETS", "Pattern", "RunRule", "longest_window", "rule_set"]

Pattern = Literal["one_side", "trend", "alternating", "inside", "outside"]


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
    suits : tuple of str
        Kinds of point that the rule may read.
    """

    key: str
    words: str
    pattern: Pattern
    window: int
    count: int
    zone: float = 0.0
    suits: tuple[Plotted, ...] = ZONE_CHARTS


BEYOND_LIMITS = RunRule(
    "beyond_limits", "one point beyond the control limits", "one_side", 1, 1, 3.0, ANY_CHART
)
TWO_OF_THREE = RunRule("two_of_three", "two of three points beyond 2 σ on one side", "one_side", 3, 2, 2.0)
FOUR_OF_FIVE = RunRule("four_of_five", "four of five points beyond 1 σ on one side", "one_side", 5, 4, 1.0)
SEVEN_ON_ONE_SIDE = RunRule(
    "seven_on_one_side", "seven points in a row on one side", "one_side", 7, 7, 0.0, ORDER_CHARTS
)
EIGHT_ON_ONE_SIDE = RunRule("eight_on_one_side", "eight points in a row on one side", "one_side", 8, 8)
NINE_ON_ONE_SIDE = RunRule(
    "nine_on_one_side", "nine points in a row on one side", "one_side", 9, 9, 0.0, ORDER_CHARTS
)
SIX_TREND = RunRule("six_trend", "six points in a row rising or falling", "trend", 6, 6, 0.0, ORDER_CHARTS)
SEVEN_TREND = RunRule(
    "seven_trend", "seven points in a row rising or falling", "trend", 7, 7, 0.0, ORDER_CHARTS
)
FOURTEEN_ALTERNATING = RunRule(
    "fourteen_alternating", "fourteen points up and down in turn", "alternating", 14, 14, 0.0, ORDER_CHARTS
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
    The four zone tests of the Western Electric handbook (1956), as quoted in teaching texts. For means, medians and
    single values of a law alike on both sides; of ranges and s only the limits (from memory).
``nelson1984``
    Nelson, J. Quality Technology 16(4) 237-239, eight tests (from memory); ISO 8258:1991 has the same.
    All for means, medians and single values; of ranges and s only tests 1 to 4 (limits, nine, six, fourteen).
``iso7870``
    The numeric patterns of ISO 7870-2:2013 clause 8 (from memory; the 2023 list could not be checked).
    Suited as the like tests of 1984, and so is the set ``house``: the standard's words on it are not at hand.

No set but its limits suits moving ranges, smoothed values or sums, whose neighbours share readings.
"""


def longest_window(rules: Sequence[RunRule]) -> int:
    """Points a live check must remember for these rules.

    Parameters
    ----------
    rules : sequence of RunRule
        For instance ``RULE_SETS["house"]``.

    Returns
    -------
    int
        Points, the newest included; 0 for no rule.

    Examples
    --------
    >>> longest_window(RULE_SETS["house"])
    9
    """
    return max((rule.window for rule in rules), default=0)


def rule_set(name: str) -> tuple[RunRule, ...]:
    """The set of that name, or a refusal that lists the names.

    Parameters
    ----------
    name : str
        ``none``, ``house``, ``we1956``, ``nelson1984`` or ``iso7870``.

    Returns
    -------
    tuple of RunRule
        In the order of the source.

    Raises
    ------
    Refused
        A set of another name.
    """
    if name not in RULE_SETS:
        raise Refused.one("no such set of run rules", value=name, allowed=", ".join(RULE_SETS))
    return RULE_SETS[name]
