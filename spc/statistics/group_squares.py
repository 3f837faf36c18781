"""Squares between and within groups: the one decomposition behind every analysis of variance in one way."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

__all__ = ["GroupSquares", "group_squares"]


@dataclass(frozen=True, slots=True)
class GroupSquares:
    """Sums of squares of groups of values.

    Attributes
    ----------
    sizes : tuple of int
        Values in each group.
    mean : float
        Of all values.
    offsets : tuple of float
        Mean of each group less the mean of all values.
    within_each : tuple of float
        Squares within each group about its mean.
    between, within : float
        Squares of the group means about the mean of all values, weighted by size; squares within all groups.
    """

    sizes: tuple[int, ...]
    mean: float
    offsets: tuple[float, ...]
    within_each: tuple[float, ...]
    between: float
    within: float

    @property
    def between_freedom(self) -> int:
        """Groups less one."""
        return len(self.sizes) - 1

    @property
    def within_freedom(self) -> int:
        """Values less groups."""
        return sum(self.sizes) - len(self.sizes)

    @property
    def between_mean_square(self) -> float:
        """Squares between over their freedom."""
        return self.between / self.between_freedom

    @property
    def within_mean_square(self) -> float:
        """Squares within over their freedom; wants a group of 2 or more."""
        return self.within / self.within_freedom

    @property
    def typical_size(self) -> float:
        """Size of a group as the mean square between counts it; the common size where all agree."""
        count = sum(self.sizes)
        return (count - fsum(size**2 for size in self.sizes) / count) / self.between_freedom

    @property
    def between_variance(self) -> float:
        """Variance of the groups' true levels by the mean squares; 0 where they come out negative."""
        return max(0.0, (self.between_mean_square - self.within_mean_square) / self.typical_size)


def group_squares(groups: Sequence[Sequence[float]]) -> GroupSquares:
    """Split squares between and within groups that were checked before.

    Notes
    -----
    Sums run over deviations and are exactly rounded (fsum), so nothing is lost on sizes of seven digits.

    Examples
    --------
    >>> found = group_squares([[1.0, 3.0], [5.0, 7.0]])
    >>> found.between, found.within, found.typical_size, found.between_variance
    (16.0, 4.0, 2.0, 7.0)
    """
    sizes = tuple(map(len, groups))
    mean = fsum(value for group in groups for value in group) / sum(sizes)
    offsets = tuple(fsum(value - mean for value in group) / len(group) for group in groups)
    within_each = tuple(
        fsum((value - mean - offset) ** 2 for value in group) if max(group) > min(group) else 0.0
        for group, offset in zip(groups, offsets, strict=True)
    )
    between = fsum(size * offset**2 for size, offset in zip(sizes, offsets, strict=True))
    return GroupSquares(sizes, mean, offsets, within_each, between, fsum(within_each))
