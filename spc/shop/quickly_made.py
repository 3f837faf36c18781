"""Frozen records that are made by the dozen at every check: filled while they may still be written, then frozen."""

from collections.abc import Callable
from dataclasses import MISSING, fields
from typing import Any, TypeVar

__all__ = ["CHANGERS", "quickly_made"]

T = TypeVar("T")

_UNSAID: Any = object()
"""Stands where a caller gives no value."""
_become = vars(object)["__class__"].__set__
CHANGERS: dict[type, Callable[..., Any]] = {}
"""What makes a changed record of each kind `quickly_made`, from one and its changes."""


def quickly_made(kind: type[T]) -> type[T]:
    """Let a frozen dataclass with slots be made and changed several times as fast; it stays frozen, all else as it was.

    Parameters
    ----------
    kind : frozen dataclass with slots
        Without fields that it works out for itself; it inherits from nothing, and nothing from it.

    Raises
    ------
    TypeError
        A dataclass that has such fields, inherits, or has no slots.

    Notes
    -----
    The constructor that Python writes looks every field up by name past its own refusal to be changed. This one is
    written the same way, from the same fields and defaults, but fills the record while it is of a twin class: the
    same slots, and no refusal. Then the record becomes what it was to be.

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
    if hasattr(kind, "__post_init__") or "__slots__" not in vars(kind) or kind.__bases__ != (object,):
        msg = f"{kind.__name__} works fields out for itself, inherits some, or has no slots"
        raise TypeError(msg)
    twin = type(f"Unfrozen{kind.__name__}", (), {"__slots__": tuple(each.name for each in fields(of))})
    made = _constructor(of, twin)
    made.__qualname__, made.__annotations__ = of.__init__.__qualname__, of.__init__.__annotations__
    of.__init__ = made
    CHANGERS[kind] = _changer(of, twin)
    return kind


def _constructor(kind: Any, twin: type) -> Any:
    known: dict[str, Any] = {"_UNSAID": _UNSAID, "_become": _become, "_kind": kind, "_twin": twin}
    arguments, body = [], ["_become(self, _twin)"]
    for each in fields(kind):
        name = value = argument = each.name
        if each.default_factory is not MISSING:
            known[f"_make_{name}"], argument = each.default_factory, f"{name}=_UNSAID"
            value = f"_make_{name}() if {name} is _UNSAID else {name}"
        elif each.default is not MISSING:
            known[f"_default_{name}"], argument = each.default, f"{name}=_default_{name}"
        arguments.append(argument)
        body.append(f"self.{name} = {value}")
    body.append("self.__class__ = _kind")
    return _written("__init__", ["self", *arguments], body, known)


def _changer(kind: Any, twin: type) -> Callable[..., Any]:
    names = [each.name for each in fields(kind)]
    body = ["_new = _twin()"]
    body += [f"_new.{name} = _record.{name} if {name} is _UNSAID else {name}" for name in names]
    body += ["_new.__class__ = _kind", "return _new"]
    known: dict[str, Any] = {"_UNSAID": _UNSAID, "_kind": kind, "_twin": twin}
    arguments = ["_record", "/", *(f"{name}=_UNSAID" for name in names)]
    changer: Callable[..., Any] = _written("changed", arguments, body, known)
    return changer


def _written(name: str, arguments: list[str], body: list[str], known: dict[str, Any]) -> Any:
    """Write a function out as text and compile it, as dataclasses do: no loop over fields is left at run time."""
    exec(f"def {name}({', '.join(arguments)}):\n    " + "\n    ".join(body), known)
    return known[name]
