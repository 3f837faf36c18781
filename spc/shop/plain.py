"""Records to plain JSON values and back, exactly: the one way facts, verdicts and states are kept.

A float keeps its shortest text, which Python reads back to the same
bits; a Decimal and a time keep their text.
"""

import types
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from decimal import Decimal
from functools import cache
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

__all__ = ["from_plain", "to_plain"]

T = TypeVar("T")
Read = Callable[[Any], Any]


def to_plain(record: Any) -> Any:
    """Turn a record into lists, dicts, text and numbers for JSON.

    Parameters
    ----------
    record : frozen dataclass, or a tuple, mapping or scalar of them
        Mappings have text keys.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> to_plain(ToleranceLimits(Decimal("1.0"), None))
    {'lower': '1.0', 'upper': None}
    """
    if record is None or isinstance(record, str | int | float | bool):
        return record
    if isinstance(record, Decimal):
        return str(record)
    if isinstance(record, datetime):
        return record.isoformat()
    if isinstance(record, tuple | list):
        return [to_plain(each) for each in record]
    if isinstance(record, Mapping):
        return {key: to_plain(value) for key, value in record.items()}
    if is_dataclass(record):
        return {name: to_plain(getattr(record, name)) for name in _names(type(record))}  # type: ignore[arg-type]  # a class is hashable
    msg = f"a {type(record).__name__} cannot be kept"
    raise TypeError(msg)


def from_plain(kind: type[T], plain: Any) -> T:
    """Read a record of the given class back from what `to_plain` made.

    Raises
    ------
    KeyError
        A field without a default is missing: the text was written by another version.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> from_plain(ToleranceLimits, {"lower": "1.0", "upper": None})
    ToleranceLimits(lower=Decimal('1.0'), upper=None)
    """
    record: T = _reader(kind)(plain)  # type: ignore[arg-type]  # a class is hashable
    return record


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(each.name for each in fields(kind) if each.init)


@cache
def _reader(hint: Any) -> Read:
    """Build, once a type, the function that reads it."""
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        return _optional(hint)
    if origin is tuple:
        return _tuple(get_args(hint))
    if origin in (dict, Mapping):
        value = _reader(get_args(hint)[1])
        return lambda plain: {key: value(each) for key, each in plain.items()}
    if hint is Decimal:
        return Decimal
    if hint is datetime:
        return datetime.fromisoformat
    if hint is float:
        return float
    if is_dataclass(hint):
        return _record(hint)  # type: ignore[arg-type]  # is_dataclass says it is a class here
    return _same if origin is Literal or hint in (str, int, bool, Any) else _unknown(hint)


def _record(kind: type) -> Read:
    hints = get_type_hints(kind)
    readers: dict[str, Read] = {}

    def read(plain: dict[str, Any]) -> Any:
        if not readers:  # filled at first use, so that a record may hold its own kind
            readers.update({name: _reader(hints[name]) for name in _names(kind)})
        return kind(**{name: readers[name](value) for name, value in plain.items() if name in readers})

    return read


def _optional(hint: Any) -> Read:
    kinds = [each for each in get_args(hint) if each is not type(None)]
    if len(kinds) != 1:
        return _unknown(hint)
    inner = _reader(kinds[0])
    return lambda plain: None if plain is None else inner(plain)


def _tuple(kinds: tuple[Any, ...]) -> Read:
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        each = _reader(kinds[0])
        return lambda plain: tuple(each(value) for value in plain)
    readers = [_reader(kind) for kind in kinds]
    return lambda plain: tuple(read(value) for read, value in zip(readers, plain, strict=True))


def _same(plain: Any) -> Any:
    return plain


def _unknown(hint: Any) -> Read:
    msg = f"no way to read {hint!r} back is known"
    raise TypeError(msg)
