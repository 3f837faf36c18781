"""What the grid says under values that were taken: outside the tolerance, at 20 °C, and what a piece amounts to."""

from collections.abc import Callable, Mapping
from decimal import ROUND_UP, Decimal
from typing import NamedTuple

from spc.errors import Refused
from spc.intake import as_direction
from spc.pages.entry import GridState, Mark
from spc.pages.grid_of_plan import typed_value
from spc.pages.grid_places import GridPlace, grid_places
from spc.pages.words import size_words, unit_words
from spc.shop import Characteristic, Plan, Reading
from spc.station.pieces import piece_value, value_that_judges

__all__ = ["Warmth", "beyond_words", "marks_of"]


class Warmth(NamedTuple):
    """Temperatures of part and setting master as typed, °C; None where not known or not readable."""

    part_c: Decimal | None = None
    master_c: Decimal | None = None


def marks_of(
    plan: Plan, deviations: bool, warmth: Warmth
) -> Callable[[GridState], Mapping[tuple[str, int], Mark]]:
    """Return what marks the values in the grid; it stops nothing, because a bad part is no bad reading."""

    def marks(state: GridState) -> dict[tuple[str, int], Mark]:
        found: dict[tuple[str, int], Mark] = {}
        for characteristic in plan.gauged:
            places = [each for each in grid_places(plan) if each.characteristic is characteristic]
            for piece in range(1, characteristic.subgroup_size + 1):
                read = [_read(state, each, piece, deviations, warmth) for each in places]
                mark = _mark(characteristic, [each for each in read if each is not None], len(places))
                if mark is not None:
                    last = max(number for number, each in enumerate(read) if each is not None)
                    found[places[last].column, piece] = mark
        return found

    return marks


def beyond_words(value: Decimal, characteristic: Characteristic) -> str:
    """Say by how much a value lies outside the tolerance, in the plan's unit; "" inside.

    Examples
    --------
    >>> from spc.shop import ToleranceLimits
    >>> over_pin = Characteristic("over_pin", "over_pin_diameter", "mm", Decimal("31.250"),
    ...                           ToleranceLimits(Decimal("31.232"), Decimal("31.268")))
    >>> beyond_words(Decimal("31.272"), over_pin)
    '0.004 over the upper limit'
    """
    lower, upper = characteristic.tolerance.lower, characteristic.tolerance.upper
    if upper is not None and value > upper:
        return f"{_short(value - upper, characteristic)} over the upper limit"
    if lower is not None and value < lower:
        return f"{_short(lower - value, characteristic)} under the lower limit"
    return ""


def _read(
    state: GridState, place: GridPlace, piece: int, deviations: bool, warmth: Warmth
) -> tuple[Decimal, Decimal] | None:
    """Return a place's value as gauged and at 20 °C; None where nothing was taken."""
    characteristic, column = place.characteristic, place.column
    text = state.cells[column][piece - 1].text
    if not text or (column, piece) in state.refusals:
        return None
    try:
        value = typed_value(characteristic, text, deviations)
    except Refused:
        return None
    reading = Reading(
        characteristic.name, piece, text, value, position=place.position,
        temperature_c=warmth.part_c, master_temperature_c=warmth.master_c,
    )  # fmt: skip
    return as_direction(value, characteristic), value_that_judges(reading, characteristic)


def _mark(characteristic: Characteristic, read: list[tuple[Decimal, Decimal]], positions: int) -> Mark | None:
    """Mark a piece once all its positions are in."""
    if not read or len(read) < positions:
        return None
    gauged, judged = (piece_value(values, characteristic.piece_value) for values in zip(*read, strict=True))
    beyond = beyond_words(judged, characteristic)
    said = []
    is_warm = judged != gauged
    if positions > 1 or is_warm:
        of = f"{characteristic.piece_value} of the piece " if positions > 1 else ""
        where = " at 20 °C" if is_warm else ""
        said.append(f"{of}{size_words(judged, characteristic, 1)} {unit_words(characteristic.unit)}{where}")
    if beyond:
        said.append(beyond)
    return Mark(" · ".join(said), bool(beyond)) if said else None


def _short(over: Decimal, characteristic: Characteristic) -> str:
    """Round up to one decimal more than the drawing's, so that nothing outside reads as nothing."""
    decimals = max(0, -int(characteristic.nominal.as_tuple().exponent)) + 1
    text = f"{over.quantize(Decimal(1).scaleb(-decimals), ROUND_UP):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
