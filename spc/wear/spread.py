"""The spread of one piece, learned from the ranges within checks and, for single pieces, from their moves."""

import math
from dataclasses import dataclass

from spc.errors import Refused
from spc.shop.changed import changed
from spc.shop.quickly_made import quickly_made

__all__ = ["PieceSpread", "learn_spread", "sigma_um"]

_PRIOR_DF = 4.0


@quickly_made
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
    spread : PieceSpread
        What earlier checks said.
    values_um : tuple of float
        The pieces minus target, µm.
    single_um : float or None
        Where the check has one piece: that value with the slide moves taken out.

    Returns
    -------
    PieceSpread
        With n − 1 degrees of freedom more; for a single piece one, from the second on.

    Raises
    ------
    Refused
        Where a value is not a number.

    Notes
    -----
    Half the squared move between single pieces that follow each other estimates σ² (von Neumann's mean square
    successive difference). Moves share a piece with their neighbours, so m of them are worth about 2m/3
    degrees of freedom when σ is judged; they count in full here.

    References
    ----------
    J. von Neumann et al. (1941), Ann. Math. Stat. 12, 153–162 (from memory).

    Examples
    --------
    >>> learned = learn_spread(PieceSpread(3.0), (1.0, 3.0, 2.0), None)
    >>> learned.squares_um2, learned.df
    (2.0, 2.0)
    """
    single = () if single_um is None else (single_um,)
    if not all(map(math.isfinite, (*values_um, *single))):
        raise Refused.one(
            "a piece has no number", value=str((*values_um, *single)), allowed="µm minus target"
        )
    n = len(values_um)
    if n > 1:
        centre = sum(values_um) / n
        squares = sum([(value - centre) ** 2 for value in values_um])
        return changed(spread, squares_um2=spread.squares_um2 + squares, df=spread.df + n - 1)
    if single_um is None:
        return spread
    if spread.last_single_um is None:
        return changed(spread, last_single_um=single_um)
    move = single_um - spread.last_single_um
    return changed(
        spread,
        squares_um2=spread.squares_um2 + move * move / 2.0,
        df=spread.df + 1.0,
        last_single_um=single_um,
    )


def sigma_um(spread: PieceSpread) -> float:
    """Say σ of one piece: the pooled estimate, the first guess counting as four degrees of freedom.

    Parameters
    ----------
    spread : PieceSpread
        What checks said so far.

    Returns
    -------
    float
        µm.

    Examples
    --------
    >>> sigma_um(PieceSpread(3.0)), sigma_um(PieceSpread(3.0, squares_um2=28.0, df=12.0))
    (3.0, 2.0)
    """
    total = spread.squares_um2 + _PRIOR_DF * spread.prior_um**2
    return math.sqrt(total / (spread.df + _PRIOR_DF))
