"""Hourly subgroups turned into means, medians, ranges and standard deviations, or refused."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from statistics import median

from spc.errors import Refusal, Refused
from spc.statistics.readings import MOST_READING

__all__ = ["SubgroupSummaries", "collapse", "summarise_subgroups"]


@dataclass(frozen=True, slots=True)
class SubgroupSummaries:
    """What a chart plots, one entry per subgroup in the order taken.

    Attributes
    ----------
    readings : tuple of tuple of float
        The readings as given, in their own unit.
    sizes : tuple of int
        Pieces in each subgroup.
    mean : float
        Mean of all pieces; with equal subgroups also the mean of their means.
    means, medians, ranges, sds : tuple of float
        One each per subgroup; range and standard deviation (n-1) of a single piece are 0 and say nothing.
    """

    readings: tuple[tuple[float, ...], ...]
    sizes: tuple[int, ...]
    mean: float
    means: tuple[float, ...]
    medians: tuple[float, ...]
    ranges: tuple[float, ...]
    sds: tuple[float, ...]

    @property
    def n(self) -> int | tuple[int, ...]:
        """Pieces a subgroup: one number where all agree, else one per subgroup."""
        return self.sizes[0] if len(set(self.sizes)) == 1 else self.sizes

    @property
    def pieces(self) -> int:
        """All pieces together."""
        return sum(self.sizes)

    @property
    def all_readings(self) -> tuple[float, ...]:
        """Every reading in the order taken."""
        return tuple(value for subgroup in self.readings for value in subgroup)

    @property
    def overall_sd(self) -> float:
        """Standard deviation of all pieces together, n-1 in the divisor."""
        return _sd(self.all_readings)


def summarise_subgroups(
    subgroups: Sequence[Sequence[float]],
    *,
    least_subgroups: int = 2,
    least_pieces: int = 1,
    chart: str = "chart",
) -> SubgroupSummaries:
    """Means, medians, ranges and standard deviations of subgroups, for every chart and index.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in one unit, oldest subgroup first; sizes may differ.
    least_subgroups, least_pieces : int
        Fewest subgroups, and fewest pieces in each, that the asking chart can use.
    chart : str
        Name of the asking chart, for the refusal.

    Returns
    -------
    SubgroupSummaries
        One entry per subgroup.

    Raises
    ------
    Refused
        Every empty or too small subgroup and missing or infinite reading together, or too few subgroups.

    Notes
    -----
    Standard deviations have n-1 in the divisor, as ISO 7870-2 takes them (from memory).

    Examples
    --------
    >>> summarise_subgroups([[31.251, 31.255, 31.253], [31.250, 31.252, 31.254]]).medians
    (31.253, 31.252)
    """
    readings = tuple(tuple(float(value) for value in subgroup) for subgroup in subgroups)
    refusals = _refusals(readings, least_subgroups, least_pieces, chart)
    if refusals:
        raise Refused(refusals)
    return SubgroupSummaries(
        readings=readings,
        sizes=tuple(len(values) for values in readings),
        mean=fsum(value for values in readings for value in values) / sum(len(values) for values in readings),
        means=tuple(fsum(values) / len(values) for values in readings),
        medians=tuple(median(values) for values in readings),
        ranges=tuple(max(values) - min(values) for values in readings),
        sds=tuple(_sd(values) for values in readings),
    )


def collapse(values: Sequence[float]) -> float | tuple[float, ...]:
    """One number where all agree, else all of them: limits of equal and unequal subgroups."""
    return values[0] if len(set(values)) == 1 else tuple(values)


def _refusals(
    readings: tuple[tuple[float, ...], ...], least_subgroups: int, least_pieces: int, chart: str
) -> list[Refusal]:
    found = [
        refusal
        for number, values in enumerate(readings, start=1)
        for refusal in _subgroup_refusals(number, values, least_pieces, chart)
    ]
    if len(readings) < least_subgroups:
        found.append(
            Refusal(
                f"too few subgroups for {chart}",
                value=str(len(readings)),
                allowed=f"{least_subgroups} or more; limits worth signing want 20 or more",
                do="Collect more checks",
            )
        )
    return found


def _subgroup_refusals(
    number: int, values: tuple[float, ...], least_pieces: int, chart: str
) -> list[Refusal]:
    place = f"subgroup {number}"
    if not values:
        return [Refusal("the subgroup is empty", column=place, do="Leave it out or enter its readings")]
    found = [
        Refusal(
            "the reading is missing or not finite",
            str(value),
            column=f"{place}, piece {piece}",
            do="Leave it out",
        )
        for piece, value in enumerate(values, start=1)
        if not abs(value) <= MOST_READING
    ]
    if len(values) < least_pieces:
        found.append(
            Refusal(
                f"too few pieces for {chart}",
                value=str(len(values)),
                column=place,
                allowed=f"{least_pieces} or more in each subgroup",
                do="Use the chart for individuals where each check is one piece",
            )
        )
    return found


def _sd(values: Sequence[float]) -> float:
    """Two passes, so that readings of 31.25 that differ in the third decimal lose nothing."""
    if len(values) < 2 or max(values) == min(values):
        return 0.0
    mean = fsum(values) / len(values)
    return sqrt(fsum((value - mean) ** 2 for value in values) / (len(values) - 1))
