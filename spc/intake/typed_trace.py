"""A trace in place of a value: {"trace": [[position, value], …]} as a page or a program gives it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any, Final

from spc.errors import Refused
from spc.intake.nearest import listed
from spc.intake.number import AS_ALLOWED, read_between
from spc.intake.problem import Problem
from spc.intake.trace_value import value_from_trace
from spc.shop.plan import Characteristic
from spc.shop.trace import TRACE_OF, Trace

__all__ = ["is_trace", "read_typed_trace", "with_trace"]

_KEYS: Final = ("trace", "name", "value")
_POINTS: Final = "a list of [position, value], in mm and µm (a depth in mm)"


def is_trace(given: Any, characteristic: Characteristic) -> bool:
    """Tell a trace from a mapping of positions on the piece."""
    return isinstance(given, Mapping) and "trace" in given and "trace" not in characteristic.positions


def read_typed_trace(
    given: Mapping[str, Any],
    characteristic: Characteristic,
    piece: int,
    position: str,
    text_of: Callable[[Any], str],
) -> tuple[Decimal, Trace] | Problem:
    """Work out the value of a trace.

    Parameters
    ----------
    given : mapping
        `trace`: points as [position, value]; `name` of its file; `value`, where something already stands for the
        trace: it must be what the trace gives.
    text_of : callable
        Says any value a program may give as text.
    """
    column = f"{characteristic.name}, piece {piece}"
    more = [str(key) for key in given if key not in _KEYS]
    if more:
        return Problem(column, more[0], "a trace has no such key", listed(_KEYS))
    name = text_of(given.get("name"))
    points = _points(given["trace"], text_of)
    if isinstance(points, Problem):
        return points._replace(column=column)
    try:
        value = value_from_trace(points, characteristic)
    except Refused as refused:
        first = refused.refusals[0]
        of = f"{name}: " if name else ""
        return Problem(column, first.value, of + first.reason, first.allowed, first.do)
    said = text_of(given.get("value"))
    if said and read_between(said, "comma" if "," in said else "point") != value:
        reason = f"the trace {name} gives {value:f} {characteristic.unit} here".replace("  ", " ")
        return Problem(column, said, reason, "that value, or the trace taken away")
    trace = Trace(TRACE_OF[characteristic.kind], piece, name, points, (characteristic.name,), position)
    return value, trace


def with_trace(traces: Sequence[Trace], trace: Trace) -> list[Trace]:
    """Add a trace; one that is in already gives one characteristic more."""
    same = [each for each in traces if replace(each, gives=trace.gives) == trace]
    if not same:
        return [*traces, trace]
    both = replace(same[0], gives=same[0].gives + trace.gives)
    return [both if each is same[0] else each for each in traces]


def _points(given: Any, text_of: Callable[[Any], str]) -> tuple[tuple[Decimal, Decimal], ...] | Problem:
    if isinstance(given, str) or not isinstance(given, Sequence):
        return Problem("", text_of(given), "this is no trace", _POINTS)
    points: list[tuple[Decimal, Decimal]] = []
    for number, pair in enumerate(given, start=1):
        if isinstance(pair, str) or not isinstance(pair, Sequence) or len(pair) != 2:
            return Problem("", text_of(pair), f"point {number} of the trace is no pair", _POINTS)
        texts = [text_of(each) for each in pair]
        read = [read_between(text, "point") for text in texts]
        wrong = next(
            ((text, why) for text, why in zip(texts, read, strict=True) if isinstance(why, str)), None
        )
        if wrong is not None:
            return Problem("", wrong[0], f"point {number} of the trace: {wrong[1]}", AS_ALLOWED)
        points.append((Decimal(read[0]), Decimal(read[1])))
    return tuple(points)
