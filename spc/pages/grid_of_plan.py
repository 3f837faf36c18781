"""The entry grid of a plan: its columns, how a typed text is judged, and what is handed on."""

from collections.abc import Callable
from decimal import Decimal

from spc.errors import Refused
from spc.intake import can_deviate, doubt, master_size, read_typed, size_from_master
from spc.pages.entry import GridColumn, GridLayout, GridState
from spc.pages.words import plain, unit_words
from spc.shop import Characteristic, Plan

__all__ = ["grid_layout", "judge_of", "typed_values"]


def grid_layout(plan: Plan, token: str, deviations: bool) -> GridLayout | None:
    """Return the columns of a plan; None where it gauges nothing."""
    columns = tuple(_column(each, deviations and can_deviate(each)) for each in plan.gauged)
    return GridLayout(f"{token}{'-dev' if deviations else ''}", columns) if columns else None


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
            value = _value(characteristic, text, deviations)
        except Refused as refused:
            first = refused.refusals[0]
            return f"{first.reason[:1].upper()}{first.reason[1:]}. Allowed: {first.allowed}."
        doubted = doubt(value, characteristic)
        if doubted is None or text in said(column, piece):
            return None
        again = "" if "gauge this piece again" in doubted else " Gauge this piece again."
        return f"{doubted}.{again} If piece {piece} shows the same value, enter it once more."

    return judge


def typed_values(plan: Plan, state: GridState, deviations: bool) -> dict[str, dict[str, list[str]]]:
    """Return what was typed as the station takes it, piece 1 first: sizes, and deviations from masters."""
    taken: dict[str, dict[str, list[str]]] = {"values": {}, "from_master_um": {}}
    for characteristic in plan.gauged:
        texts = state.texts(characteristic.name)
        if any(texts):
            key = "from_master_um" if deviations and can_deviate(characteristic) else "values"
            taken[key][characteristic.name] = list(texts)
    return taken


def _value(characteristic: Characteristic, text: str, deviations: bool) -> Decimal:
    if deviations and can_deviate(characteristic):
        return size_from_master(characteristic, text)
    return read_typed(text, characteristic)


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
        mode="deviation_um", master_size=f"{master_size(characteristic)} {unit}", decimals=1,
        nominal=shown and f"{shown} {unit}", lower=lower or "", upper=f"{upper} {unit}" if upper else "",
    )  # fmt: skip


def _limits(characteristic: Characteristic) -> tuple[Decimal | None, Decimal | None]:
    return characteristic.tolerance.lower, characteristic.tolerance.upper
