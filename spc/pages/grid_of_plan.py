"""The entry grid of a plan: its columns, how a typed text is judged, and what a deviation amounts to."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from spc.errors import Refused
from spc.intake import doubt, read_typed
from spc.pages.entry import GridColumn, GridLayout, GridState
from spc.pages.words import plain, unit_words
from spc.shop import Characteristic, Plan, ToleranceLimits

__all__ = ["absolute_text", "can_deviate", "grid_layout", "judge_of", "typed_values"]

_UM: dict[str, Decimal] = {"mm": Decimal("0.001"), "um": Decimal(1), "in": Decimal("0.001") / Decimal("25.4")}
"""The plan's unit in one micrometre."""


def grid_layout(plan: Plan, token: str, deviations: bool) -> GridLayout | None:
    """Return the columns of a plan; None where it gauges nothing."""
    columns = tuple(_column(each, deviations and can_deviate(each)) for each in plan.gauged)
    return GridLayout(f"{token}{'-dev' if deviations else ''}", columns) if columns else None


def can_deviate(characteristic: Characteristic) -> bool:
    """Whether a comparator may be set on a master for it: a size, not a deviation."""
    return characteristic.unit in _UM and characteristic.nominal != 0


def judge_of(
    plan: Plan, deviations: bool, said: Callable[[str, int], set[str]]
) -> Callable[[str, int, str], str | None]:
    """Return what says of a typed text why it cannot be taken.

    Parameters
    ----------
    said : callable (column, piece) -> set of str
        Texts that were doubted and typed again: they are taken, because somebody stands for them.
    """

    def judge(column: str, piece: int, text: str) -> str | None:
        characteristic = plan.characteristic(column)
        try:
            value = Decimal(absolute_text(characteristic, text, deviations))
        except Refused as refused:
            first = refused.refusals[0]
            return f"{first.reason[:1].upper()}{first.reason[1:]}. Allowed: {first.allowed}."
        doubted = doubt(value, characteristic)
        if doubted is None or text in said(column, piece):
            return None
        again = "" if "gauge this piece again" in doubted else " Gauge this piece again."
        return f"{doubted}.{again} If piece {piece} shows the same value, enter it once more."

    return judge


def absolute_text(characteristic: Characteristic, text: str, deviations: bool) -> str:
    """Turn a typed text into the value in the plan's unit, exact.

    Raises
    ------
    Refused
        The text cannot be read as one number.
    """
    if not (deviations and can_deviate(characteristic)):
        return format(read_typed(text, characteristic), "f")
    return format(
        _master(characteristic) + read_typed(text, _as_deviation(characteristic)) * _UM[characteristic.unit],
        "f",
    )


def typed_values(plan: Plan, state: GridState, deviations: bool) -> dict[str, list[str]]:
    """Return what was typed as the station takes it, in the plan's unit, piece 1 first."""
    values = {}
    for characteristic in plan.gauged:
        texts = state.texts(characteristic.name)
        if any(texts):
            values[characteristic.name] = [
                absolute_text(characteristic, text, deviations) if deviations and text else text
                for text in texts
            ]
    return values


def _master(characteristic: Characteristic) -> Decimal:
    return characteristic.nominal if characteristic.master_size is None else characteristic.master_size


def _as_deviation(characteristic: Characteristic) -> Characteristic:
    """The same characteristic as a comparator shows it: µm around its master."""
    width = characteristic.tolerance.width or Decimal(1)
    reach = width / _UM[characteristic.unit]
    return replace(
        characteristic, unit="um", nominal=Decimal(0), tolerance=ToleranceLimits(-reach, reach), target=None
    )


def _column(characteristic: Characteristic, deviation: bool) -> GridColumn:
    nominal, unit = characteristic.nominal, unit_words(characteristic.unit)
    lower, upper = (None if each is None else f"{each}" for each in _limits(characteristic))
    decimals = max(0, -int(nominal.as_tuple().exponent))
    shown = f"{nominal}" if nominal else ""
    is_later = characteristic.later or characteristic.at != ("every",)
    if not deviation:
        return GridColumn(
            characteristic.name, plain(characteristic.name), unit, characteristic.subgroup_size, is_later,
            decimals=decimals, nominal=shown, lower=lower or "", upper=upper or "",
        )  # fmt: skip
    return GridColumn(
        characteristic.name, plain(characteristic.name), "µm", characteristic.subgroup_size, is_later,
        mode="deviation_um", master_size=f"{_master(characteristic)} {unit}", decimals=1,
        nominal=shown and f"{shown} {unit}", lower=lower or "", upper=f"{upper} {unit}" if upper else "",
    )  # fmt: skip


def _limits(characteristic: Characteristic) -> tuple[Decimal | None, Decimal | None]:
    return characteristic.tolerance.lower, characteristic.tolerance.upper
