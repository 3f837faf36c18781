"""Where bad pieces begin among those held back: halving by boxes, or by pieces where their order is kept."""

from spc.shop import Contain, FirstBad

__all__ = ["halving"]

_FROM_A_BOX = 5
"""Pieces taken from a box: enough to tell its level from the one before the change (common practice, no source)."""
_BOXES = 16
"""An example in the sentence: how many boxes take how many turns."""


def halving(contain: Contain, *, order_kept: bool, one_way: bool, by_eye: bool = False) -> FirstBad | None:
    """Say how to find the first bad piece or box among those held back, for whoever sorts.

    Parameters
    ----------
    contain : Contain
        The last piece is bad, the one before the first is good.
    order_kept : bool
        Whether the plan says that pieces stay in the order in which they were made (trays, racks).
    one_way : bool
        Whether the cause came once and stayed: a step, or a drift that only goes one way.
    by_eye : bool
        Whether the pieces are looked at, for a mark, instead of gauged.

    Returns
    -------
    FirstBad or None
        None where no counter is known or nothing is held back.

    Notes
    -----
    Among n pieces held back the bad ones begin at one of n places, and every gauging of the middle leaves half
    of them: ⌈log₂ n⌉ gaugings. Where the level may have come back in between, the middle tells nothing of the
    halves beside it, and all are sorted. Pieces fall into boxes, so their order within one is lost: the box in
    which it begins is sorted whole.

    References
    ----------
    Binary search; that parts keep their order only on trays and racks is common practice, no source.

    Examples
    --------
    >>> halving(Contain(0, 300, 300), order_kept=True, one_way=True).gaugings
    9
    >>> halving(Contain(0, 300, 300), order_kept=False, one_way=True).take_counter
    150
    """
    if contain.pieces is None or contain.from_counter is None or contain.pieces < 1:
        return None
    pieces = contain.pieces
    if not one_way:
        says = f"Sort all {pieces:,} pieces: what came may have gone again, so the middle tells nothing"
        return FirstBad("all", None, pieces, says)
    if pieces == 1:
        return FirstBad("all", None, 1, "Only 1 piece is in doubt: gauge it")
    middle = contain.from_counter + pieces // 2
    if order_kept:
        gaugings = (pieces - 1).bit_length()
        return FirstBad("piece", middle, gaugings, _by_piece(middle, gaugings, by_eye))
    return FirstBad("box", middle, None, _by_box(middle, by_eye))


def _by_piece(middle: int, gaugings: int, by_eye: bool) -> str:
    many = "1 piece shows" if gaugings == 1 else f"{gaugings} pieces show"
    gauge = "Look at" if by_eye else "Gauge"
    return (
        f"{gauge} the piece of counter {middle:,} first. Good: halve the later half; bad: the earlier. "
        f"{many} where it begins"
    )


def _by_box(middle: int, by_eye: bool) -> str:
    gauge = "look at" if by_eye else "gauge"
    turns = (_BOXES - 1).bit_length()
    return (
        f"Take the box from about counter {middle:,} first and {gauge} {_FROM_A_BOX} pieces of it. Good: halve "
        f"the later boxes; bad: the earlier ones ({_BOXES} boxes take {turns} turns). Sort the first bad box whole"
    )
