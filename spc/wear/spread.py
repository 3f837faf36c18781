"""The spread of one piece, learned from the ranges within checks and, for single pieces, from their moves."""

from dataclasses import dataclass, replace

__all__ = ["PieceSpread", "learn_spread", "sigma_um"]

_PRIOR_DF = 4.0


@dataclass(frozen=True, slots=True)
class PieceSpread:
    """Sums that hold all that earlier checks said of the spread.

    Attributes
    ----------
    prior_um : float
        First guess of σ: a twelfth of the tolerance.
    squares_um2, df : float
        Sum of squares within checks and its degrees of freedom.
    last_single_um : float or None
        The last value where a check has one piece: the next one's move is a degree of freedom.
    """

    prior_um: float
    squares_um2: float = 0.0
    df: float = 0.0
    last_single_um: float | None = None


def learn_spread(spread: PieceSpread, values_um: tuple[float, ...], single_um: float | None) -> PieceSpread:
    """Take in the pieces of one check.

    Parameters
    ----------
    values_um : tuple of float
        The pieces minus target, µm.
    single_um : float or None
        Where the check has one piece: that value with the slide moves taken out.
    """
    n = len(values_um)
    if n > 1:
        centre = sum(values_um) / n
        squares = sum((value - centre) ** 2 for value in values_um)
        return replace(spread, squares_um2=spread.squares_um2 + squares, df=spread.df + n - 1)
    if single_um is None:
        return spread
    if spread.last_single_um is None:
        return replace(spread, last_single_um=single_um)
    move = single_um - spread.last_single_um
    return replace(
        spread,
        squares_um2=spread.squares_um2 + move * move / 2.0,
        df=spread.df + 1.0,
        last_single_um=single_um,
    )


def sigma_um(spread: PieceSpread) -> float:
    """Return σ of one piece, µm: the pooled estimate, the first guess counting as four degrees of freedom."""
    total = spread.squares_um2 + _PRIOR_DF * spread.prior_um**2
    return float((total / (spread.df + _PRIOR_DF)) ** 0.5)
