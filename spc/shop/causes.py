"""What may lie behind a verdict, in the words of the floor."""

from typing import Final

__all__ = ["CAUSE_WORDS", "cause_words"]

CAUSE_WORDS: Final = {
    "setting": "a setting was changed",
    "batch": "another bar batch",
    "gauge_zero": "the gauge was off its master",
    "entry": "a wrong entry",
    "odd_piece": "one odd piece",
    "wear": "the dies are worn",
    "warm_up": "the machine was warming up",
    "over_adjustment": "the slide was moved too often",
    "step": "the size stepped, nobody knows why yet",
    "drift": "the size drifts, nobody knows why yet",
    "spread": "the pieces scatter more, nobody knows why yet",
    "unknown": "nothing was found",
}
"""For each word of `layouts.Cause`, in the order in which a shop looks."""


def cause_words(cause: str) -> str:
    """Say a cause as the floor does; what somebody put in words of their own stays as it is.

    Examples
    --------
    >>> cause_words("gauge_zero"), cause_words("worn flank")
    ('the gauge was off its master', 'worn flank')
    """
    return CAUSE_WORDS.get(cause, cause)
