"""Frozen records that are made by the dozen at every check: their fields go straight into their slots."""

from dataclasses import MISSING, fields
from typing import Any, TypeVar

__all__ = ["quickly_made"]

T = TypeVar("T")


def quickly_made(kind: type[T]) -> type[T]:
    """Let a frozen dataclass with slots be made in less than half the time; it stays frozen, and all else as it was.

    Parameters
    ----------
    kind : frozen dataclass with slots
        Without fields that it works out for itself.

    Raises
    ------
    TypeError
        A dataclass that has such fields, or no slots.

    Notes
    -----
    The constructor that Python writes looks every field up by name past its own refusal to be changed. This one is
    written the same way, from the same fields and defaults, but calls what fills each slot.

    Examples
    --------
    >>> from dataclasses import dataclass
    >>> @quickly_made
    ... @dataclass(frozen=True, slots=True)
    ... class Size:
    ...     name: str
    ...     um: float = 0.0
    >>> Size("over_pin", um=2.5), Size("lead")
    (Size(name='over_pin', um=2.5), Size(name='lead', um=0.0))
    >>> Size("lead").um = 1.0
    Traceback (most recent call last):
    dataclasses.FrozenInstanceError: cannot assign to field 'um'
    """
    of: Any = kind
    if hasattr(kind, "__post_init__") or "__slots__" not in vars(kind):
        msg = f"{kind.__name__} works fields out for itself, or has no slots"
        raise TypeError(msg)
    known: dict[str, Any] = {"MISSING": MISSING}
    arguments, body = [], []
    for place, each in enumerate(fields(of)):
        known[f"_set_{place}"] = vars(kind)[each.name].__set__
        value, default = each.name, ""
        if each.default_factory is not MISSING:
            known[f"_make_{place}"], default = each.default_factory, " = MISSING"
            value = f"_make_{place}() if {each.name} is MISSING else {each.name}"
        elif each.default is not MISSING:
            known[f"_default_{place}"], default = each.default, f" = _default_{place}"
        arguments.append(f"{each.name}{default}")
        body.append(f"    _set_{place}(self, {value})")
    exec(f"def __init__(self, {', '.join(arguments)}):\n" + "\n".join(body), known)
    made = known["__init__"]
    made.__qualname__, made.__annotations__ = of.__init__.__qualname__, of.__init__.__annotations__
    of.__init__ = made
    return kind
