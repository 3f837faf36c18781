"""Which index answers the plan's demand, and why: the same words on the plan page, in the review and on paper."""

from spc.shop import Characteristic
from spc.shop.layouts import MAGNITUDES

__all__ = ["answering_index", "answering_now"]

_FOLLOWS = "the size follows the die, so every piece counts as it was delivered, with wear and slide moves"
_FROM_ZERO = "a size that cannot go below 0 is not normal, and only Ppk is read from its own model"
_STILL = "the level is fixed, so Cpk counts while checks stand still; once they move, Ppk answers"
_STOOD_STILL = "the level is fixed and the checks stood still"
_MOVED = "the checks did not stand still, so every piece counts as it was delivered"


def answering_index(characteristic: Characteristic) -> tuple[str, str]:
    """Return the index that answers by the plan alone, and the reason, for whoever reads the plan.

    Parameters
    ----------
    characteristic : Characteristic
        Gauged.

    Returns
    -------
    tuple of (str, str)
        "Ppk" or "Cpk", and why, to stand behind "because".

    Notes
    -----
    A process that wears has performance, not capability, whatever one period shows: ISO 22514-2 (from memory).
    """
    if characteristic.judged_by == "with_die_wear":
        return "Ppk", _FOLLOWS
    if characteristic.kind in MAGNITUDES:
        return "Ppk", _FROM_ZERO
    return "Cpk", _STILL


def answering_now(characteristic: Characteristic, *, steady: bool) -> tuple[str, str]:
    """Return the index that answers for the checks of a period, and the reason.

    Parameters
    ----------
    steady : bool
        Whether the checks of the period stood still.
    """
    word, why = answering_index(characteristic)
    if word == "Cpk":
        return ("Cpk", _STOOD_STILL) if steady else ("Ppk", _MOVED)
    return word, why
