"""A check whose values are those of the check before it."""

from decimal import Decimal
from typing import Final

from spc.shop.facts import CheckGauged

__all__ = ["copied"]

_PIECES: Final = 3


def copied(previous: CheckGauged | None, check: CheckGauged) -> str | None:
    """Say that a check repeats the one before it, piece by piece.

    Parameters
    ----------
    previous : CheckGauged or None
        The check before it of the same part on the same machine.
    check : CheckGauged

    Returns
    -------
    str or None
        One sentence with the number of values; None where anything differs or too little was gauged.

    Notes
    -----
    Only characteristics with at least 3 gauged pieces speak, and whatever both checks gauged must agree: one
    value that differs shows that somebody gauged. Where all their pieces show one and the same value nothing is
    said: a coarse gauge repeats itself honestly. Nor is anything said of a check that confirms: it gauges the
    same pieces again.
    """
    if previous is None or check.purpose == "confirm" or _differ_at_once(previous, check):
        return None
    before, gauged = _values(previous), _values(check)
    if any(before[name] != values for name, values in gauged.items() if name in before):
        return None
    now = {name: values for name, values in gauged.items() if len(values) >= _PIECES}
    if not now or any(name not in before for name in now):
        return None
    if all(len(set(values.values())) == 1 for values in now.values()):
        return None
    count = sum(len(values) for values in now.values())
    return f"all {count} values of {', '.join(now)} are those of the check before: gauge these pieces again"


def _differ_at_once(previous: CheckGauged, check: CheckGauged) -> bool:
    """Whether readings that stand at the same place in both checks are of the same piece and differ: most do."""
    return any(
        now.value != before.value and now.key == before.key and None not in (now.value, before.value)
        for before, now in zip(previous.readings, check.readings, strict=False)
    )


def _values(check: CheckGauged) -> dict[str, dict[tuple[int, str], Decimal]]:
    """Return value by piece and position, characteristic by characteristic."""
    values: dict[str, dict[tuple[int, str], Decimal]] = {}
    for reading in check.readings:
        if reading.value is not None:
            values.setdefault(reading.characteristic, {})[reading.piece, reading.position] = reading.value
    return values
