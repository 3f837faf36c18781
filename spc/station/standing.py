"""Which signals stand, and since which check: what `since` and the pieces held back are counted from."""

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime

from spc.shop import Signal
from spc.station.context import CheckContext

__all__ = ["causes_after", "likeliest", "standing_after", "troubled_since"]

_NO_CAUSE = ("suspect_entry", "travel_used", "wear_rate")
"""Kinds that tell nothing of when pieces began to go wrong."""


def standing_after(
    context: CheckContext, seen: Collection[str], signals: Sequence[Signal]
) -> dict[str, datetime]:
    """Return, after a check, the first check of every unbroken row of checks that show a signal.

    Parameters
    ----------
    seen : collection of str
        Characteristics of which the check tells something; what stood on others goes on standing.

    Returns
    -------
    dict
        By "characteristic|kind", and by "characteristic|" for any kind that may be the cause of a hold.
    """
    earlier = context.machine.standing
    standing = {key: since for key, since in earlier.items() if key.rpartition("|")[0] not in seen}
    for each in signals:
        standing[f"{each.characteristic}|{each.kind}"] = each.since
        if each.kind not in _NO_CAUSE:
            key = f"{each.characteristic}|"
            standing[key] = earlier.get(key, context.check.time)
    return standing


def causes_after(
    context: CheckContext, standing: Mapping[str, datetime], signals: Sequence[Signal]
) -> dict[str, str]:
    """Return, by characteristic, the likeliest cause of the unbroken row of checks that show something.

    It is that of the first check which named one: later ones may only see what it has left behind.
    """
    earlier, causes = context.machine.causes, {}
    for key in standing:
        name, _, kind = key.rpartition("|")
        if kind:
            continue
        now = (
            likeliest(each) for each in signals if each.characteristic == name and each.kind not in _NO_CAUSE
        )
        cause = earlier.get(name) or next((each for each in now if each), "")
        if cause:
            causes[name] = cause
    return causes


def likeliest(signal: Signal) -> str:
    """Return the cause of the weightiest explanation of a signal; "" where it has none."""
    best = max(signal.explanations, key=lambda each: each.weight, default=None)
    return "" if best is None else best.cause


def troubled_since(context: CheckContext, characteristics: Collection[str]) -> datetime:
    """Return the first check of the unbroken row up to this one in which any of these showed a cause."""
    earlier = context.machine.standing
    return min(
        (earlier.get(f"{each}|", context.check.time) for each in characteristics), default=context.check.time
    )
