"""The one reader that finds run rules: in a whole record or at its newest point."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from spc.errors import Refused
from spc.shop.quickly_made import quickly_made
from spc.statistics.rule_sets import Pattern, RunRule, longest_window
from spc.statistics.suited_rules import Plotted, refuse_unsuited

__all__ = ["RunFinding", "find_runs", "last_point_findings"]

TIE = 1e-9
"""Standard deviations closer than which a point counts as on a line: far below any gauge, above rounding."""


@quickly_made
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


def find_runs(
    z: Sequence[float], rules: Sequence[RunRule], plotted: Plotted = "mean"
) -> tuple[RunFinding, ...]:
    """Every point of a record that completes a pattern, for a review.

    Parameters
    ----------
    z : sequence of float
        Distances from the centre in standard deviations of the plotted point, oldest first.
    rules : sequence of RunRule
        For instance ``RULE_SETS["house"]``.
    plotted : str
        What a point of the chart is, as in `RunRule.suits`.

    Returns
    -------
    tuple of RunFinding
        By point, then in the order of the rules. A pattern that goes on is found again at each further point.

    Raises
    ------
    Refused
        A distance that is not finite, or a rule that does not suit such points.

    Notes
    -----
    A point on a line counts as not beyond it, one on the centre as on neither side, two equal neighbours as
    neither rising nor falling; "on" is within 1e-9 standard deviations. The completing point itself lies in
    the zone. "None within 1 σ" is met on one side as well as on both.

    Examples
    --------
    >>> from spc.statistics.rule_sets import RULE_SETS
    >>> find_runs([0.1, 3.4, 0.2], RULE_SETS["none"])
    (RunFinding(index=2, rule='beyond_limits', says='3.40 σ above the centre, beyond the limit at 3 σ'),)
    """
    _want_numbers(z)
    refuse_unsuited([rule.words for rule in rules if plotted not in rule.suits], plotted)
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

    Raises
    ------
    Refused
        A distance that is missing or not finite.

    Notes
    -----
    Reads as `find_runs` does; for charts of means, medians and single values.

    Examples
    --------
    >>> from spc.statistics.rule_sets import RULE_SETS
    >>> [finding.says for finding in last_point_findings([0.4] * 9, RULE_SETS["house"])]
    ['9 points in a row above the centre']
    """
    if not z_window:
        return ()
    _want_numbers(z_window)
    found = ((rule.key, _completes(z_window, rule)) for rule in rules)
    return tuple(RunFinding(len(z_window), key, says) for key, says in found if says)


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
    if side * newest <= rule.zone + TIE:
        return ""
    beyond = sum(side * value > rule.zone + TIE for value in points)
    if beyond < rule.count:
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
    if len(points) < rule.window:
        return ""
    steps = _steps(points)
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
