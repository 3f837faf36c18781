"""From readings to pieces: what each gauged piece amounts to, and which entries are hard to believe."""

import math
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import lt
from statistics import median

from spc.intake import as_direction, copied, doubt, is_direction, plausible_window
from spc.shop import Characteristic, CheckGauged, Reading
from spc.shop.quickly_made import quickly_made
from spc.station.at_20 import grows_with_warmth, value_at_20
from spc.station.state import MachineState

__all__ = [
    "Pieces", "entry_doubts", "piece_numbers", "piece_value", "piece_values", "pieces_gauged",
    "value_that_judges", "values_as_gauged", "visual_finds",
]  # fmt: skip


_ORDINARY = 4.9
"""Standard deviations of one piece within which nobody asks whether two digits were swapped (see `intake.doubt`)."""


@quickly_made
@dataclass(frozen=True, slots=True)
class Pieces:
    """One characteristic as a check gauged it.

    Attributes
    ----------
    readings : tuple of Reading
        Those with a value.
    judged : tuple of Decimal
        What judges each of them (see `value_that_judges`).
    values : tuple of Decimal
        What judges each piece, in the order of the pieces.
    """

    characteristic: Characteristic
    readings: tuple[Reading, ...]
    judged: tuple[Decimal, ...]
    values: tuple[Decimal, ...]


def pieces_gauged(check: CheckGauged, characteristics: Sequence[Characteristic]) -> list[Pieces]:
    """Return the pieces of every characteristic that the check gauged, in the order of the plan."""
    readings: dict[str, list[Reading]] = defaultdict(list)
    for reading in check.readings:
        if reading.value is not None:
            readings[reading.characteristic].append(reading)
    return [_pieces(each, tuple(readings[each.name])) for each in characteristics if each.name in readings]


def _pieces(characteristic: Characteristic, readings: tuple[Reading, ...]) -> Pieces:
    if grows_with_warmth(characteristic) or is_direction(characteristic):
        judged = tuple(value_that_judges(each, characteristic) for each in readings)
    else:
        judged = tuple([each.value for each in readings if each.value is not None])
    numbers = [each.piece for each in readings]
    if all(map(lt, numbers, numbers[1:])):  # one reading a piece, in order
        return Pieces(characteristic, readings, judged, judged)
    return Pieces(characteristic, readings, judged, _by_number(numbers, judged, characteristic.piece_value))


def piece_values(check: CheckGauged, characteristic: Characteristic) -> tuple[Decimal, ...]:
    """Return what judges each piece, in the plan's unit and the order of the pieces.

    Several positions are one piece; warm readings are brought to 20 °C where the plan and both temperatures
    allow it; a direction is named by the angle nearest the nominal.
    """
    return _by_piece(check, characteristic, value_that_judges)


def value_that_judges(reading: Reading, characteristic: Characteristic) -> Decimal:
    """Return what judges one reading: at 20 °C, and for a direction near the nominal."""
    return as_direction(value_at_20(reading, characteristic), characteristic)


def values_as_gauged(check: CheckGauged, characteristic: Characteristic) -> tuple[Decimal, ...]:
    """Return the same as the gauge said it, no temperature taken into account."""
    return _by_piece(
        check, characteristic, lambda reading, plan: as_direction(reading.value or Decimal(0), plan)
    )


def _by_piece(
    check: CheckGauged,
    characteristic: Characteristic,
    value_of: Callable[[Reading, Characteristic], Decimal],
) -> tuple[Decimal, ...]:
    name = characteristic.name
    readings = [each for each in check.readings if each.characteristic == name and each.value is not None]
    values = [value_of(each, characteristic) for each in readings]
    return _by_number([each.piece for each in readings], values, characteristic.piece_value)


def _by_number(numbers: Sequence[int], values: Sequence[Decimal], rule: str) -> tuple[Decimal, ...]:
    """Put together what was gauged on the same piece, in the order of the pieces."""
    by_piece: dict[int, list[Decimal]] = {}
    for number, value in zip(numbers, values, strict=True):
        by_piece.setdefault(number, []).append(value)
    return tuple(piece_value(by_piece[number], rule) for number in sorted(by_piece))


def piece_numbers(check: CheckGauged, characteristic: Characteristic) -> tuple[int, ...]:
    """Return the number of each gauged piece, in the order of `piece_values`; a piece left out leaves a gap."""
    return tuple(
        sorted(
            {
                reading.piece
                for reading in check.readings
                if reading.characteristic == characteristic.name and reading.value is not None
            }
        )
    )


def visual_finds(check: CheckGauged, characteristic: Characteristic) -> tuple[tuple[int, str], ...]:
    """Return (piece, answer) wherever the look was not ok."""
    return tuple(
        (reading.piece, reading.answer)
        for reading in check.readings
        if reading.characteristic == characteristic.name and reading.answer not in ("", "ok")
    )


def entry_doubts(
    check: CheckGauged,
    machine: MachineState,
    counter_doubt: str,
    gauged: Sequence[Pieces],
    expected: dict[str, tuple[float, float]],
) -> dict[str, str]:
    """Say, by characteristic, why an entry is readable but hard to believe.

    Parameters
    ----------
    counter_doubt : str
        Why its counter is hard to believe; "" where it is believed.
    gauged : sequence of Pieces
        From `pieces_gauged`.
    expected : mapping
        Characteristic -> (expected size, standard deviation of one piece around it), plan's unit.

    Returns
    -------
    dict
        Sentence by characteristic; the same sentence for all where the whole check is in doubt.
    """
    whole = counter_doubt or copied(machine.previous, check) or ""
    doubts: dict[str, str] = {}
    for pieces in gauged:
        slide = machine.doubted_setting if pieces.characteristic.is_set_by_slide else ""
        said = whole or slide or _slip(pieces, expected.get(pieces.characteristic.name))
        if said:
            doubts[pieces.characteristic.name] = said
    return doubts


def piece_value(values: Sequence[Decimal], rule: str) -> Decimal:
    """Say what several positions on one piece amount to: their mean, the largest or the smallest."""
    if len(values) == 1:
        return values[0]
    if rule == "largest":
        return max(values)
    if rule == "smallest":
        return min(values)
    return sum(values, Decimal(0)) / len(values)


def _slip(pieces: Pieces, expected: tuple[float, float] | None) -> str:
    """Say which piece is probably a slip; what lies well inside the plausible window is none."""
    characteristic = pieces.characteristic
    size, sigma = _believed(pieces, expected)
    low, high = plausible_window(characteristic, sigma) or (-math.inf, math.inf)
    if size is not None and sigma is not None:
        low, high = max(low, size - _ORDINARY * sigma), min(high, size + _ORDINARY * sigma)
    if low < float(min(pieces.judged)) and float(max(pieces.judged)) < high:
        return ""
    for reading in pieces.readings:
        said = doubt(value_at_20(reading, characteristic), characteristic, size, sigma)
        if said:
            return f"piece {reading.piece}: {said}"
    return ""


def _believed(pieces: Pieces, expected: tuple[float, float] | None) -> tuple[float | None, float | None]:
    """What to expect of one piece, unless the other pieces say that the process itself has moved.

    A step lifts all pieces; a slip of the fingers one. So the expected size only counts against a single
    piece while the middle of the check lies within two of its standard deviations.
    """
    if expected is None or len(pieces.values) < 3:
        return None, None
    size, sigma = expected
    if abs(float(median(pieces.values)) - size) > 2.0 * sigma:
        return None, None
    return size, sigma
