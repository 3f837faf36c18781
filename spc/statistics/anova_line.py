"""One line of an analysis of variance."""

from dataclasses import dataclass

from spc.statistics.chance_laws import f_tail

__all__ = ["AnovaLine", "anova_line"]


@dataclass(frozen=True, slots=True)
class AnovaLine:
    """Where a part of the total sum of squares comes from.

    Attributes
    ----------
    source : str
        What varies.
    df : int
        Degrees of freedom.
    ss : float
        Sum of squares, in the unit of the readings squared.
    ms : float or None
        Mean square; None for the total.
    f, p : float or None
        Ratio to the line it is tested against, and the chance of one at least as large; None where none is tested.
    """

    source: str
    df: int
    ss: float
    ms: float | None = None
    f: float | None = None
    p: float | None = None


def anova_line(source: str, df: int, ss: float, against: AnovaLine | None = None) -> AnovaLine:
    """Make a line with its mean square, tested against another line where one is given.

    Examples
    --------
    >>> within = anova_line("within", 12, 17.452)
    >>> line = anova_line("between", 2, 27.8973, within)
    >>> round(line.f, 2), round(line.p, 5)
    (9.59, 0.00325)
    """
    ms = ss / df
    if against is None or not against.ms:
        return AnovaLine(source, df, ss, ms)
    ratio = ms / against.ms
    return AnovaLine(source, df, ss, ms, ratio, f_tail(ratio, df, against.df))
