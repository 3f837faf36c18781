"""How commands speak: answers on stdout, refusals and progress on stderr, JSON without NaN."""

import io
import sys
from collections.abc import Mapping, Sequence
from json import JSONEncoder
from math import isfinite
from typing import Any

from spc.errors import Refusal

__all__ = [
    "complain",
    "complain_of",
    "json_text",
    "progress",
    "say",
    "say_json",
    "say_rows",
    "speak_any_letter",
]

SHOWN = 20
"""Refusals said one by one; the rest is counted."""
_WITH_LETTERS, _IN_ASCII = (JSONEncoder(ensure_ascii=each, allow_nan=False).encode for each in (False, True))


def speak_any_letter() -> None:
    """Let a terminal that cannot show µ or σ show an escape instead of ending the command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def say(text: str = "") -> None:
    """Say one line of the answer."""
    print(text)


def say_rows(rows: Sequence[tuple[str, str]]) -> None:
    """Say names and values in two columns."""
    width = max((len(name) for name, _ in rows), default=0)
    for name, value in rows:
        print(f"{name:<{width}}  {value}".rstrip())


def say_json(answer: Mapping[str, Any]) -> None:
    """Say one JSON object; letters beyond ASCII only where stdout is UTF-8, so that the bytes are always JSON."""
    utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    print(json_text(answer, letters=utf8))


def json_text(answer: Mapping[str, Any], *, letters: bool = True) -> str:
    """Write an answer as one line of JSON, in which no number is NaN or infinite.

    Examples
    --------
    >>> json_text({"p": float("nan"), "points": (1.0, 2.5)})
    '{"p": null, "points": [1.0, 2.5]}'
    """
    write = _WITH_LETTERS if letters else _IN_ASCII
    try:
        return write(answer)
    except (
        ValueError
    ):  # a number that is none stands somewhere: looking for it in every answer costs the most
        return write(_finite(answer))


def _finite(value: Any) -> Any:
    if isinstance(value, float) and not isfinite(value):
        return None
    if isinstance(value, Mapping):
        return {key: _finite(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(each) for each in value]
    return value


def complain(sentence: str) -> None:
    """Say one paragraph on stderr."""
    sys.stdout.flush()
    print(sentence, file=sys.stderr)


def complain_of(refusals: Sequence[Refusal]) -> None:
    """Say refusals on stderr, the first ones in full, the rest as a number."""
    for refusal in refusals[:SHOWN]:
        complain(refusal.sentence())
    if len(refusals) > SHOWN:
        complain(f"… and {len(refusals) - SHOWN} more.")


def progress(sentence: str) -> None:
    """Say what is being done, where somebody watches: on stderr when it is a terminal."""
    if sys.stderr.isatty():
        print(f"{sentence} …", file=sys.stderr, flush=True)
