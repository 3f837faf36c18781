"""What a comparison of hourly checks says, as records for screens and papers."""

from dataclasses import dataclass
from datetime import datetime

from spc.shop import Characteristic
from spc.statistics import GroupComparison

__all__ = ["ComparedBy", "Comparison", "ReviewComparisons"]

ComparedBy = str
"""One of `compare_groupings.GROUPINGS`, or "setting:" and the name of a setting: "setting:dwell_s"."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """What the hourly checks say about the differences of groups.

    Attributes
    ----------
    machine : str or None
        None for all machines of the part.
    characteristic : Characteristic
    by : str
        What the checks were gathered by.
    from_time, to_time : datetime or None
        From and before.
    groups : tuple of (str, int, int)
        Group as written in the record, what counts as one (shifts worked, die lives), checks; in order of their
        names, never of their sizes.
    left_out : int
        Checks of groups with too little to compare, or of which the record names no group.
    found : GroupComparison or None
        In µm; None where nothing can be compared.
    says : str
        One to four sentences; why not, where nothing can be compared.
    remark : str
        What a difference holds besides.
    basis : str
        What was compared, and how many independent checks it amounts to; "" where nothing was.
    beside_wear : bool
        Whether distances from the line of each die life were compared, and not sizes as gauged.
    worth : tuple of float
        Independent checks that each group amounts to, in the order of `groups`.
    mastered : tuple of (str, int, float)
        Group, times its gauge was set on the master, and by how many µm it was off on average.
    """

    part: str
    machine: str | None
    characteristic: Characteristic
    by: ComparedBy
    from_time: datetime | None
    to_time: datetime | None
    groups: tuple[tuple[str, int, int], ...]
    left_out: int
    found: GroupComparison | None
    says: str
    remark: str
    basis: str = ""
    beside_wear: bool = False
    worth: tuple[float, ...] = ()
    mastered: tuple[tuple[str, int, float], ...] = ()

    @property
    def chance(self) -> float:
        """How easily chance alone makes a pair differ so much, all pairs of this comparison counted in; 1 for none."""
        return 1.0 if self.found is None else min(pair.p for pair in self.found.pairs)


@dataclass(frozen=True, slots=True)
class ReviewComparisons:
    """The comparisons that a review brings along without being asked.

    Attributes
    ----------
    made : tuple of Comparison
        Shifts and machines, for every characteristic with enough checks in two groups.
    chances : tuple of float
        Adjusted for the number of comparisons, one for each of `made`.
    says : str
        How much of it is more than chance; "" where nothing was compared.
    can_be_asked : tuple of str
        Everything that may be compared on this machine, with the settings that were logged there.
    """

    made: tuple[Comparison, ...]
    chances: tuple[float, ...]
    says: str
    can_be_asked: tuple[ComparedBy, ...]
