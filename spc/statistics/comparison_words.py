"""A comparison of groups as the sentence a shift lead can act on; never a ranking."""

from math import floor, log10

from spc.statistics.compare_groups import GroupComparison
from spc.statistics.pairwise_differences import PairDifference
from spc.statistics.two_means import MeanDifference

__all__ = ["comparison_in_words"]

MOST_PAIRS = 3
"""Differences named one by one; of more only their number is said besides."""

ON_MASTER = "the same master measured by both differs by"

GAUGE_SHARE = 0.5
"""A difference on the same master of at least this share of the difference of the pieces: look at the gauge first."""


def comparison_in_words(
    comparison: GroupComparison, *, counted: str = "checks", called: str = "", on_master: str = ON_MASTER
) -> str:
    """Say which groups differ and by how much, or how large a difference could still hide.

    Parameters
    ----------
    comparison : GroupComparison
        From `compare_groups`.
    counted : str
        What the independent ones are called: "checks", or what stood in for them ("shifts worked").
    called : str
        What the groups are, in the plural ("die sets"), for a sentence about three or more of them.
    on_master : str
        How their difference on the master is said.

    Returns
    -------
    str
        One sentence for a difference that is shown, largest first, three at most.

    Notes
    -----
    Groups that are not shown to differ are not put in any order.

    Examples
    --------
    >>> from spc.statistics.compare_groups import compare_groups
    >>> print(comparison_in_words(compare_groups({
    ...     "day": [[1.0, 1.4], [0.6, 1.0], [1.2, 1.2]], "night": [[2.8, 3.0], [2.6, 3.2], [3.0, 2.4]]})))
    Night is 1.77 µm higher than day, 95 % interval 1.31 to 2.22 (3 and 3 checks).
    """
    shown = sorted((pair for pair in comparison.pairs if pair.shown), key=lambda pair: -abs(pair.difference))
    if not shown:
        return _capital(_nothing_shown(comparison, counted, called))
    said = [_one(comparison, pair, counted, on_master) for pair in shown[:MOST_PAIRS]]
    text = " ".join(_capital(sentence) for sentence in said)
    hidden = len(shown) - len(said)
    if hidden:
        text += f" {hidden} more of the {len(comparison.pairs)} pairs differ, by less."
    elif len(comparison.names) > 2:
        text += " No other difference is shown."
    return text


def _one(comparison: GroupComparison, pair: PairDifference, counted: str, on_master: str) -> str:
    """Say one difference, the higher group first, with what the gauge has to do with it."""
    low, high = sorted((abs(pair.low), abs(pair.high)))
    up = pair.difference > 0.0
    higher, lower = (pair.second, pair.first) if up else (pair.first, pair.second)
    digits = _decimals(high - low)
    names, checks = comparison.names, comparison.fit.checks
    said = (
        f"{names[higher]} is {abs(pair.difference):.{digits}f} {comparison.unit} higher than {names[lower]}, "
        f"{100 * comparison.level:g} % interval {low:.{digits}f} to {high:.{digits}f} "
        f"({checks[higher]} and {checks[lower]} {counted})"
    )
    return said + _about_the_gauge(comparison, pair, digits, on_master) + "."


def _about_the_gauge(comparison: GroupComparison, pair: PairDifference, digits: int, words: str) -> str:
    found = next(
        (each for first, second, each in comparison.master if (first, second) == (pair.first, pair.second)),
        None,
    )
    if found is None:
        return ""
    on_master = found.difference if pair.difference > 0.0 else -found.difference
    way = " the other way" if round(on_master, digits) < 0.0 else ""
    said = f"; {words} {abs(on_master):.{digits}f}{way}"
    if _is_the_gauge(found, on_master, abs(pair.difference)):
        return f"{said}, so look at the gauge first"
    could_be = (found.high if pair.difference > 0.0 else -found.low) >= GAUGE_SHARE * abs(pair.difference)
    if could_be:
        return f"{said}, too unsure to say whether the gauge explains it"
    return f"{said}, so the gauge does not explain it"


def _is_the_gauge(found: MeanDifference, on_master: float, difference: float) -> bool:
    """Large enough to explain half of it; a difference that chance explains on the master does not count."""
    proven = found.low > 0.0 or found.high < 0.0
    return proven and on_master >= GAUGE_SHARE * difference


def _nothing_shown(comparison: GroupComparison, counted: str, called: str) -> str:
    widest = max(comparison.pairs, key=lambda pair: max(abs(pair.low), abs(pair.high)))
    reach = max(abs(widest.low), abs(widest.high))
    digits = _decimals(widest.high - widest.low)
    names = (
        " and ".join(comparison.names)
        if len(comparison.names) == 2
        else f"the {len(comparison.names)} {called}".strip()
    )
    return (
        f"no difference between {names} is shown by {sum(comparison.fit.checks)} {counted}; one of up to "
        f"{reach:.{digits}f} {comparison.unit} could still hide ({100 * comparison.level:g} % interval)."
    )


def _decimals(width: float) -> int:
    """Decimals that show an interval's width in two digits."""
    return max(0, 1 - floor(log10(width))) if width > 0.0 else 3


def _capital(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]
