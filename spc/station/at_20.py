"""Readings brought to 20 °C: what was gauged stays in the record, what is judged has the warmth taken out."""

from decimal import Decimal
from typing import Final

from spc.geometry import SizeAt20, size_at_20
from spc.shop import Characteristic, Reading
from spc.shop.layouts import MAGNITUDES, SIGNED_DEVIATIONS

__all__ = [
    "at_20", "corrected", "grows_with_warmth", "is_believable", "length_of", "temperatures", "value_at_20",
]  # fmt: skip

_FORMS: Final = (*MAGNITUDES, "taper", "start_angle", "visual")
"""Form and angle keep their value when a part grows evenly."""
_COLDEST_C: Final = -20
_WARMEST_C: Final = 120
"""Beyond these a file's temperature is a slip, and nothing is corrected by it."""


def value_at_20(reading: Reading, characteristic: Characteristic) -> Decimal:
    """Return what judges a reading, in the plan's unit: brought to 20 °C where that can be done, else as gauged.

    Parameters
    ----------
    reading : Reading
        With a value.
    characteristic : Characteristic
        Its `expansion_per_k` says that readings are brought to 20 °C.

    Notes
    -----
    From the reading is taken L [α_part (T_part − 20) − α_master (T_master − 20)] where both temperatures are
    known; L is the size itself and, for a deviation, the plan's `length`. What is taken off is rounded to nine
    decimals of the unit, far below any gauge, so that a size keeps a short text.
    """
    value = reading.value
    if value is None:
        msg = "a look has no size"
        raise ValueError(msg)
    warm = at_20(reading, characteristic)
    return value if warm is None else corrected(value, warm, characteristic)


def corrected(value: Decimal, warm: SizeAt20, characteristic: Characteristic) -> Decimal:
    """Take the warmth off a value in the plan's unit; without any the value stays as it is."""
    taken_off = Decimal(f"{1000.0 * warm.taken_off_mm / characteristic.um_per_unit:.9f}")
    return value - taken_off if taken_off else value


def grows_with_warmth(characteristic: Characteristic) -> bool:
    """Whether the plan brings it to 20 °C: it has an expansion, and is no form and no angle."""
    return (
        characteristic.expansion_per_k is not None
        and characteristic.unit != "deg"
        and characteristic.kind not in _FORMS
    )


def length_of(value: Decimal, characteristic: Characteristic) -> Decimal | None:
    """Return the length that grows, in the plan's unit; None where a deviation comes without one."""
    if characteristic.kind in SIGNED_DEVIATIONS or characteristic.nominal == 0:
        size = None if characteristic.kind in SIGNED_DEVIATIONS else characteristic.master_size
        return characteristic.length if characteristic.length is not None else size or None
    return abs(value)


def temperatures(reading: Reading, characteristic: Characteristic) -> tuple[Decimal | None, Decimal | None]:
    """Return those of part and master, °C; where the master lies beside the parts, one is both."""
    part_c, master_c = reading.temperature_c, reading.master_temperature_c
    if characteristic.master_as_warm_as_part:
        part_c, master_c = (
            master_c if part_c is None else part_c,
            part_c if master_c is None else master_c,
        )
    return part_c, master_c


def is_believable(celsius: Decimal) -> bool:
    """Whether it can be the temperature of a part or master in the hand."""
    return _COLDEST_C <= celsius <= _WARMEST_C


def at_20(reading: Reading, characteristic: Characteristic) -> SizeAt20 | None:
    """Bring a reading to 20 °C; None where the plan, a temperature or a length does not allow it."""
    if reading.value is None or not grows_with_warmth(characteristic):
        return None
    part_c, master_c = temperatures(reading, characteristic)
    length = length_of(reading.value, characteristic)
    if part_c is None or master_c is None or length is None:
        return None
    if not (is_believable(part_c) and is_believable(master_c)):
        return None
    per_k, mm = characteristic.expansion_per_k or 0.0, characteristic.um_per_unit / 1000.0
    master_per_k = characteristic.master_expansion_per_k
    return size_at_20(
        float(reading.value) * mm,
        part_c=float(part_c),
        master_c=float(master_c),
        length_mm=float(length) * mm,
        part_per_k=per_k,
        master_per_k=per_k if master_per_k is None else master_per_k,
    )
