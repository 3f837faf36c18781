"""A record with some of its fields changed, several times as fast as `dataclasses.replace`."""

from collections.abc import Callable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

__all__ = ["changed"]

T = TypeVar("T")


def changed(record: T, **changes: Any) -> T:
    """Return a frozen record as it is but for the named fields; the judging of a check does so dozens of times.

    Parameters
    ----------
    record : dataclass with at least two fields
        Fields that it works out for itself are worked out anew.

    Raises
    ------
    KeyError
        A name that is no field.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> changed(ToleranceLimits(None, None), lower=1)
    ToleranceLimits(lower=1, upper=None)
    """
    kind: Any = type(record)
    places, values_of = _fields(kind)
    values = list(values_of(record))
    for name, value in changes.items():
        values[places[name]] = value
    result: T = kind(*values)
    return result


@cache
def _fields(kind: Any) -> tuple[dict[str, int], Callable[[Any], tuple[Any, ...]]]:
    names = tuple(each.name for each in fields(kind) if each.init)
    return {name: place for place, name in enumerate(names)}, attrgetter(*names)
