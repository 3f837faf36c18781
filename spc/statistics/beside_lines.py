"""Groups and lines fitted together, so that groups are compared beside a trend that all of them share."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from spc.errors import Refused

__all__ = ["BesideLines", "beside_lines"]

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BesideLines:
    """Values with their lines taken out.

    Attributes
    ----------
    values : tuple of float
        Value minus its line, in the order given; what is left is the group and chance. They sum to 0.
    spent : int
        Degrees of freedom of the lines beyond one common mean.
    dearer : float
        Largest factor, over the pairs of groups, by which the lines make the variance of a difference larger.
    n : int
        Values.
    """

    values: tuple[float, ...]
    spent: int
    dearer: float
    n: int


def beside_lines(
    values: Sequence[float],
    at: Sequence[float],
    levels: Sequence[Hashable],
    slopes: Sequence[Hashable],
    groups: Sequence[Hashable],
) -> BesideLines:
    """Take lines out of values without taking the groups out with them, for a fair comparison under wear.

    Parameters
    ----------
    values : sequence of float
        Check means.
    at : sequence of float
        Where each stands on its line: pieces.
    levels, slopes : sequence
        Which level and which slope each value has: a mounting, a die life.
    groups : sequence
        What is to be compared.

    Returns
    -------
    BesideLines

    Raises
    ------
    Refused
        The lines and the groups go together, so that no difference of groups can be told from them.

    Notes
    -----
    Least squares on levels, slopes and groups at once (analysis of covariance). Lines fitted on their own would
    take part of the groups' difference with them; one-step forecasts would too, as they follow what they saw.

    References
    ----------
    Montgomery, Design and Analysis of Experiments, chapter on the analysis of covariance (from memory).

    Examples
    --------
    >>> found = beside_lines([0.0, 3.0, 2.0, 5.0], [0, 1, 2, 3], "aaaa", "aaaa", "dndn")
    >>> [round(each, 2) for each in found.values], found.spent
    ([-1.0, 1.0, -1.0, 1.0], 1)
    """
    y, where = np.asarray(values, dtype=float), np.asarray(at, dtype=float)
    marks = _columns(groups)
    slope_marks = _columns(slopes)
    centred = slope_marks * (where[:, None] - (slope_marks * where[:, None]).sum(0) / slope_marks.sum(0))
    spans = np.abs(centred).max(0)
    lines = np.hstack([_columns(levels), centred[:, spans > 0.0] / spans[spans > 0.0]])
    rank = int(np.linalg.matrix_rank(lines))
    both = np.hstack([lines, marks[:, 1:]])
    if np.linalg.matrix_rank(both) < rank + marks.shape[1] - 1:
        raise Refused.one(
            "some groups change only where the dies change, so they cannot be told from the dies",
            do="Compare the sizes as gauged, with the dies in them",
        )
    found, *_ = np.linalg.lstsq(both, y, rcond=None)
    left = y - lines @ found[: lines.shape[1]]
    return BesideLines(
        tuple(float(each) for each in left - left.mean()), rank - 1, _dearer(lines, marks), len(y)
    )


def _columns(labels: Sequence[Hashable]) -> Floats:
    """One column of 0 and 1 for each label, in the order in which they come."""
    known = {label: place for place, label in enumerate(dict.fromkeys(labels))}
    marks = np.zeros((len(labels), len(known)))
    marks[np.arange(len(labels)), [known[label] for label in labels]] = 1.0
    return marks


def _dearer(lines: Floats, marks: Floats) -> float:
    """Compare the variance of each difference beside the lines with that of plain means."""
    base = _base(lines)
    beside = marks - base @ (base.T @ marks)
    inverse = np.linalg.pinv(beside.T @ beside)
    counts = marks.sum(0)
    largest = 1.0
    for i, j in combinations(range(len(counts)), 2):
        variance = inverse[i, i] + inverse[j, j] - 2.0 * inverse[i, j]
        largest = max(largest, float(variance / (1.0 / counts[i] + 1.0 / counts[j])))
    return largest


def _base(lines: Floats) -> Floats:
    """Orthonormal columns that span the lines."""
    left, sizes, _ = np.linalg.svd(lines, full_matrices=False)
    base: Floats = left[:, sizes > sizes[0] * 1e-10]
    return base
