"""Several tests at once: chances adjusted so that all of them together stay honest."""

from collections.abc import Sequence

from spc.errors import Refused

__all__ = ["holm"]


def holm(chances: Sequence[float]) -> tuple[float, ...]:
    """Adjust the p of several tests, for whoever reads a page of comparisons and looks for the one that counts.

    Parameters
    ----------
    chances : sequence of float
        p of each test, 0 to 1.

    Returns
    -------
    tuple of float
        In the same order; one at most 0.05 is held with 5 % risk of a single false find among all.

    Raises
    ------
    Refused
        A p that is missing or out of range.

    Notes
    -----
    Holds whatever the tests have in common, as Bonferroni's does, and is never weaker than that.

    References
    ----------
    Holm, Scandinavian Journal of Statistics 6 (1979) 65-70 (from memory).

    Examples
    --------
    >>> holm([0.01, 0.04, 0.03])
    (0.03, 0.06, 0.06)
    """
    wrong = [each for each in chances if not 0.0 <= each <= 1.0]
    if wrong:
        raise Refused.one("a chance is out of range", value=str(wrong[0]), allowed="0 to 1")
    adjusted, so_far = [0.0] * len(chances), 0.0
    for rank, place in enumerate(sorted(range(len(chances)), key=lambda each: chances[each])):
        so_far = max(so_far, min(1.0, (len(chances) - rank) * chances[place]))
        adjusted[place] = so_far
    return tuple(adjusted)
