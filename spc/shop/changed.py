"""A record with some of its fields changed, several times as fast as `dataclasses.replace`."""

from dataclasses import replace
from typing import Any, TypeVar

from spc.shop.quickly_made import CHANGERS

__all__ = ["changed"]

T = TypeVar("T")


def changed(record: T, /, **changes: Any) -> T:
    """Return a frozen record as it is but for the named fields; the judging of a check does so dozens of times.

    Parameters
    ----------
    record : dataclass
        Several times as fast where it is `quickly_made`; other kinds work out anew what they work out for themselves.

    Raises
    ------
    TypeError
        A name that is no field.

    Examples
    --------
    >>> from spc.shop.limits import ToleranceLimits
    >>> changed(ToleranceLimits(None, None), lower=1)
    ToleranceLimits(lower=1, upper=None)
    """
    of_kind = CHANGERS.get(type(record))
    if of_kind is None:
        return replace(record, **changes)  # type: ignore[type-var]  # every record is a dataclass
    result: T = of_kind(record, **changes)
    return result
