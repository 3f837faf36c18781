"""The word somebody probably meant, for refusals that help."""

from collections.abc import Iterable
from difflib import get_close_matches

__all__ = ["listed", "nearest"]


def nearest(word: str, allowed: Iterable[str]) -> str:
    """Say which allowed word is nearest, as the `do` of a refusal; "" where none is near.

    Examples
    --------
    >>> nearest("uper", ["lower", "upper"])
    'Perhaps upper is meant'
    >>> nearest("zzz", ["lower", "upper"])
    ''
    """
    by_small = {each.lower(): each for each in allowed}
    close = get_close_matches(word.strip().lower(), list(by_small), n=1, cutoff=0.6)
    return f"Perhaps {by_small[close[0]]} is meant" if close else ""


def listed(words: Iterable[str], most: int = 40) -> str:
    """Return words as one comma list, cut after `most`.

    Examples
    --------
    >>> listed(["a", "b", "c"], most=2)
    'a, b, … (3 in all)'
    """
    every = list(words)
    text = ", ".join(every[:most])
    return text if len(every) <= most else f"{text}, … ({len(every)} in all)"
