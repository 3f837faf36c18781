"""What was logged at about the time when the pieces began to differ more."""

from collections.abc import Sequence

from spc.wear import Level

__all__ = ["logged_since"]


def logged_since(levels: Sequence[Level], checks: int) -> Level | None:
    """The check at whose time a setting was logged, or new bars, as the spread began to grow.

    Parameters
    ----------
    levels : sequence of Level
        The last checks of the mounting, this one last.
    checks : int
        How many of them the growth is counted over; 0 where it is not.

    Notes
    -----
    One check sooner and one later count too: the sum that tells since when is no sharper than that. A setting comes
    before bars, for it is changed seldom. What was set with the dies is no change.
    """
    then = levels[1:][-checks - 1 :][:3] if checks else ()
    settings = [each for each in then if each.news == "setting"]
    bars = [each for each in then if each.news == "batch"]
    return next(iter(settings[-1:] + bars), None)
