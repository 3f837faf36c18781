"""What is compared of each check: the size as gauged, or its distance from the line of its die life."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from spc.errors import Refused
from spc.shop import Characteristic
from spc.station.compare_groupings import SETTING
from spc.station.compare_words import counted_as
from spc.station.compared_checks import ComparedCheck
from spc.statistics import GroupComparison
from spc.statistics.beside_lines import beside_lines
from spc.statistics.group_neighbours import GroupNeighbours

__all__ = ["Basis", "as_gauged", "basis_of", "basis_words", "worth_of"]

_WITHIN_A_LIFE: Final = ("shift", "person", "batch", "gauge")
"""These change while one die set stays on, so its growth and the slide moves can be taken out."""


@dataclass(frozen=True, slots=True)
class Basis:
    """One value a check, in µm, and what it cost.

    Attributes
    ----------
    values_um : sequence of float
    beside_wear : bool
        Whether slide moves and the line of each die life were taken out.
    why : str
        What was compared, as a sentence.
    spent : int
        Degrees of freedom of the lines.
    dearer : float
        Factor on the variance of a difference.
    """

    values_um: Sequence[float]
    beside_wear: bool
    why: str
    spent: int = 0
    dearer: float = 1.0


def basis_of(characteristic: Characteristic, by: str, checks: Sequence[ComparedCheck]) -> Basis:
    """Choose what to compare, for the fair comparison of shifts and the true one of machines.

    Notes
    -----
    Distances from the one-step forecast would not do: the forecast follows what it saw, so of a night that lies
    1.8 µm higher it shows the first check and forgives the rest.
    """
    gauged = [check.mean_um for check in checks]
    wears = characteristic.wears_with_die or characteristic.judged_by == "with_die_wear"
    if not wears:
        return Basis(gauged, False, "Compared are the sizes as gauged.")
    if not (by in _WITHIN_A_LIFE or by.startswith(SETTING)):
        return Basis(
            gauged, False, "Compared are the sizes as gauged and delivered, wear and slide moves included."
        )
    slide = characteristic.is_set_by_slide
    levels = [check.unmoved_um if slide else check.mean_um for check in checks]
    known = [level for level in levels if level is not None]
    if len(known) < len(checks) or any(check.age is None for check in checks):
        return as_gauged(checks, "a slide setting or a counter is missing, so they cannot be taken out")
    return _beside(known, checks, slide=slide)


def as_gauged(checks: Sequence[ComparedCheck], why: str) -> Basis:
    """Compare what was gauged although the dies wear, and say why."""
    return Basis(
        [check.mean_um for check in checks],
        False,
        f"Compared are the sizes as gauged, wear and slide moves included: {why}.",
    )


def _beside(levels: Sequence[float], checks: Sequence[ComparedCheck], *, slide: bool) -> Basis:
    try:
        found = beside_lines(
            levels,
            [float(check.age or 0) for check in checks],
            [check.mounted.mounting for check in checks],
            [(check.turn[0], check.mounted.life) for check in checks],
            [check.group for check in checks],
        )
    except Refused as refused:
        return as_gauged(checks, refused.refusals[0].reason)
    moves = "slide moves and " if slide else ""
    return Basis(
        found.values,
        True,
        f"Compared is the size with {moves}the growth of each die life taken out, one line a life: a late hour "
        "on an old die counts no more than an early one on a new.",
        found.spent,
        found.dearer,
    )


def worth_of(found: GroupComparison) -> tuple[float, ...]:
    """Return how many independent checks each group amounts to: spread of one check against that of the mean."""
    one = found.fit.sigma_between**2 + found.fit.sigma_within**2
    return tuple(one / each for each in found.fit.mean_variances)


def basis_words(
    basis: Basis, found: GroupComparison, neighbours: GroupNeighbours, by: str, checks: int
) -> str:
    """Say what was compared, what counts as one, and how many independent checks it amounts to."""
    worth = min(float(checks), sum(worth_of(found)))
    units = sum(found.fit.checks)
    said = (
        f"{basis.why} Means of {checks:,} checks in {units:,} {counted_as(by)}, worth about {worth:,.0f} "
        "independent checks; pieces of one check never count as several."
    )
    if neighbours.dearer > 1.0:
        said += (
            f" {counted_as(by).capitalize()} resemble the one before (correlation {neighbours.r:.2f}), so "
            f"{neighbours.dearer:.1f} of them count as one and the interval is wider for it."
        )
    if found.pairs[0].method == "Games-Howell":
        said += " The groups scatter differently, so each keeps a spread of its own."
    return said
