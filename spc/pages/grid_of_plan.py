"""The entry grid of a plan: its columns, how a typed text is judged, and what is handed on."""

from collections.abc import Callable
from decimal import Decimal

from spc.errors import Refused
from spc.intake import can_deviate, doubt, master_size, read_typed, size_from_master
from spc.pages.entry import GridColumn, GridLayout, GridState
from spc.pages.grid_places import GridPlace, grid_places, place_of
from spc.pages.words import unit_words
from spc.shop import Characteristic, Plan

Typed = str | dict[str, str]

__all__ = ["grid_layout", "Typed", "judge_of", "left_out", "typed_value", "typed_values"]


def grid_layout(plan: Plan, token: str, deviations: bool) -> GridLayout | None:
    """Return the columns of a plan; None where it gauges nothing."""
    columns = tuple(
        _column(each, deviations and can_deviate(each.characteristic)) for each in grid_places(plan)
    )
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
        characteristic = place_of(plan, column).characteristic
        try:
            value = typed_value(characteristic, text, deviations)
        except Refused as refused:
            first = refused.refusals[0]
            return f"{first.reason[:1].upper()}{first.reason[1:]}. Allowed: {first.allowed}."
        doubted = doubt(value, characteristic)
        if doubted is None or text in said(column, piece):
            return None
        again = "" if "gauge this piece again" in doubted else " Gauge this piece again."
        return f"{doubted}.{again} If piece {piece} shows the same value, enter it once more."

    return judge


def typed_values(plan: Plan, state: GridState, deviations: bool) -> dict[str, dict[str, list[Typed]]]:
    """Return what was typed as the station takes it, piece 1 first: sizes, and deviations from masters.

    A piece gauged at several positions is a mapping of position to text.
    """
    taken: dict[str, dict[str, list[Typed]]] = {"values": {}, "from_master_um": {}}
    for characteristic in plan.gauged:
        places = [each for each in grid_places(plan) if each.characteristic is characteristic]
        texts = list(zip(*(state.texts(each.column) for each in places), strict=True))
        if not any(text for piece in texts for text in piece):
            continue
        key = "from_master_um" if deviations and can_deviate(characteristic) else "values"
        taken[key][characteristic.name] = [
            dict(zip(characteristic.positions, piece, strict=True)) if characteristic.positions else piece[0]
            for piece in texts
        ]
    return taken


def left_out(plan: Plan, state: GridState) -> list[tuple[str, int, str]]:
    """Return (characteristic, piece, reason) of what was left out; a position is named in its reason."""
    found = []
    for (column, piece), why in state.skipped().items():
        place = place_of(plan, column)
        found.append(
            (place.characteristic.name, piece, f"{place.position}: {why}" if place.position else why)
        )
    return found


def typed_value(characteristic: Characteristic, text: str, deviations: bool) -> Decimal:
    """Return the size that a typed text means, in the plan's unit.

    Raises
    ------
    Refused
        It is no number.
    """
    if deviations and can_deviate(characteristic):
        return size_from_master(characteristic, text)
    return read_typed(text, characteristic)


def _column(place: GridPlace, deviation: bool) -> GridColumn:
    characteristic = place.characteristic
    nominal, unit = characteristic.nominal, unit_words(characteristic.unit)
    lower, upper = (None if each is None else f"{each}" for each in _limits(characteristic))
    decimals = max(0, -int(nominal.as_tuple().exponent))
    shown = f"{nominal}" if nominal else ""
    is_later = characteristic.later or characteristic.at != ("every",)
    is_noted = bool(place.position) or characteristic.trace is not None
    if not deviation:
        return GridColumn(
            place.column, place.label, unit, characteristic.subgroup_size, is_later, decimals=decimals,
            nominal=shown, lower=lower or "", upper=upper or "", is_noted=is_noted,
        )  # fmt: skip
    return GridColumn(
        place.column, place.label, "µm", characteristic.subgroup_size, is_later,
        mode="deviation_um", master_size=f"{master_size(characteristic)} {unit}", decimals=1,
        nominal=shown and f"{shown} {unit}", lower=lower or "", upper=f"{upper} {unit}" if upper else "",
    )  # fmt: skip


def _limits(characteristic: Characteristic) -> tuple[Decimal | None, Decimal | None]:
    return characteristic.tolerance.lower, characteristic.tolerance.upper
