"""For every picture: what was drawn once is kept, and a page showing the same record again draws nothing."""

from collections.abc import Callable, Hashable
from functools import lru_cache, wraps
from typing import Any, ParamSpec, cast

__all__ = ["kept"]

P = ParamSpec("P")


def kept(largest: int) -> Callable[[Callable[P, dict[str, Any]]], Callable[P, dict[str, Any]]]:
    """Keep the newest `largest` pictures of a function, found again by what was drawn, not by which object.

    Notes
    -----
    Records are frozen down to their tuples, so they hash and compare by content: an older check that was
    struck out since gives another picture. The outer dict is the caller's own; what is inside is shared and
    must be left as it is.
    """

    def around(draw: Callable[P, dict[str, Any]]) -> Callable[P, dict[str, Any]]:
        drawn = lru_cache(maxsize=largest)(draw)

        @wraps(draw)
        def picture(*args: P.args, **kwargs: P.kwargs) -> dict[str, Any]:
            return dict(drawn(*cast("tuple[Hashable, ...]", args), **cast("dict[str, Hashable]", kwargs)))

        return picture

    return around
