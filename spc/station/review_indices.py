"""The indices of a review in the order they are read: what was delivered first where the process moved."""

from dataclasses import dataclass

from spc.statistics import Estimate, HonestCapability, ModelCapability

__all__ = ["IndexLine", "index_of", "indices_shown"]

_ABOUT = {
    "Ppk": "all pieces, nearest limit",
    "Pp": "all pieces, if centred",
    "Cpk": "one check, nearest limit",
    "Cp": "one check, if centred",
    "Cpm": "all pieces, from the target",
}
_MOVED = {"Cpk": "one check, nearest limit: no promise", "Cp": "one check, if centred: no promise"}
"""Said instead where the process moved."""
_DELIVERED = ("Ppk", "Pp", "Cpm")
_MOMENT = ("Cpk", "Cp")


@dataclass(frozen=True, slots=True)
class IndexLine:
    """One index for a reader.

    Attributes
    ----------
    name : str
        Ppk, Pp, Cpk, Cp or Cpm.
    index : Estimate
        The honest one where there is one, else the textbook's.
    honest : Estimate or None
        With the interval from the spread between checks; Cpm has none.
    textbook : Estimate or None
        With the interval that takes every piece as independent.
    about : str
        What it speaks of.
    """

    name: str
    index: Estimate
    honest: Estimate | None
    textbook: Estimate | None
    about: str


def indices_shown(found: ModelCapability, *, follows: bool = False) -> tuple[IndexLine, ...]:
    """Return the indices that exist: Ppk first where the process moved, Cpk first where it stood still.

    Parameters
    ----------
    follows : bool
        The size follows the die: it is never called still, whatever one period shows.
    """
    still = found.words == "capability" and found.plain is not None and not follows
    order = (*_MOMENT, *_DELIVERED) if still else (*_DELIVERED, *_MOMENT)
    about = _ABOUT if still else _ABOUT | _MOVED
    lines = []
    for name in order:
        textbook, honest = _textbook(found, name), _honest(found, name)
        index = honest or textbook
        if index is not None:
            lines.append(IndexLine(name, index, honest, textbook, about[name]))
    return tuple(lines)


def index_of(found: ModelCapability, name: str) -> Estimate:
    """Return the index of a name; Ppk where the model has no such index."""
    return _honest(found, name) or _textbook(found, name) or found.percentiles.ppk


def _honest(found: ModelCapability, name: str) -> Estimate | None:
    """Return the index with the interval that knows checks."""
    honest = found.honest
    if honest is None:
        return None
    known = {"Ppk": honest.ppk, "Pp": honest.pp}
    if isinstance(honest, HonestCapability):
        known |= {"Cpk": honest.cpk, "Cp": honest.cp}
    return known.get(name)


def _textbook(found: ModelCapability, name: str) -> Estimate | None:
    plain = found.plain
    if plain is not None:
        return getattr(plain, name.lower())  # type: ignore[no-any-return]  # each index is an Estimate or None
    return {"Ppk": found.percentiles.ppk, "Pp": found.percentiles.pp}.get(name)
