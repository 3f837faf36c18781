"""Invented records to draw; nothing here is measured."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

from spc.shop import Characteristic, DieLife, PiecesLeft, ToleranceLimits, WearRate
from spc.station.views import CharacteristicHistory, CheckPoint, DieBoardRow, FloorEvent, SettingPoint

START = datetime(2026, 3, 2, 5, tzinfo=UTC)
WORDS = "Mean 44.521 lies 4 µm above the upper limit 44.517."


def characteristic(lower: str | None = "44.470", upper: str | None = "44.530", **more: Any) -> Characteristic:
    tolerance = ToleranceLimits(
        None if lower is None else Decimal(lower), None if upper is None else Decimal(upper)
    )
    told: dict[str, Any] = {"set_by": "penetration", **more}
    return Characteristic("over_pins", "over_pin_diameter", "mm", Decimal("44.500"), tolerance, **told)


def point(number: int, mean: float = 44.500, **more: Any) -> CheckPoint:
    values = tuple(round(mean + step / 1000, 3) for step in (-2, -1, 0, 1, 2))
    told: dict[str, Any] = {
        "check_id": number, "time": START + timedelta(hours=number), "axis_pieces": 500.0 * number,
        "die_set": "D-07", "counter": 1000 + 500 * number, "age": 1000 + 500 * number, "purpose": "hourly",
        "n": 5, "values": values, "mean": mean, "range": 0.004, "mean_at_reference_setting": mean + 0.001,
        "centre": 44.500, "lower": 44.492, "upper": 44.508, "spread_upper": 0.011, "standing": "provisional",
        "verdict": "run", "says": (), "struck_out": False, "suspect": False,
    }  # fmt: skip
    return CheckPoint(**(told | more))


def history(points: tuple[CheckPoint, ...], sense: int = 1, **more: Any) -> CharacteristicHistory:
    depths = ((0, Decimal("12.340")), (2, Decimal("12.356")))
    settings = tuple(SettingPoint(START, 500.0 * at, depth, sense * depth) for at, depth in depths)
    events = (
        FloorEvent(START, 0.0, "die_set_mounted", "die set D-07 on"),
        FloorEvent(START, 900.0, "penetration", "slide deeper"),
        FloorEvent(START, 1200.0, "blank_batch", "new bar batch B-19"),
        FloorEvent(START, 1700.0, "gauge_mastered", "gauge set on master"),
    )
    told: dict[str, Any] = {
        "machine": "R2", "characteristic": characteristic(), "zone": "Europe/Berlin", "points": points,
        "settings": settings, "events": events, "axis_counts": "pieces",
    }  # fmt: skip
    return CharacteristicHistory(**(told | more))


def every_look() -> tuple[CheckPoint, ...]:
    return (
        point(0),
        point(1, 44.521, verdict="watch", says=(WORDS,)),
        point(2, 44.529, verdict="hold", says=("Piece 4 is 44.530 and piece 5 is 44.531.",)),
        point(3, purpose="setup"),
        point(4, 44.560, struck_out=True),
        point(5, 34.500, suspect=True),
        point(6, 44.505, die_set="D-08", standing="forecast"),
        point(7, 44.506, die_set="D-08", standing="forecast"),
    )


def board_row(machine: str, left: tuple[int | None, ...] | None, finished: int = 3) -> DieBoardRow:
    life = None
    if left is not None:
        life = DieLife("over_pins", "upper", PiecesLeft(*left), WearRate(1.1, 0.8, 1.5), 0.028, 0.060, 0.8)
    return DieBoardRow(
        machine, "4711", "pinion", "D-07", 12310, life, 0.032, finished, 900.0, None, "run", "Europe/Berlin"
    )


def layers(spec: dict[str, Any]) -> list[dict[str, Any]]:
    """Every layer of a picture that draws something, outermost first."""
    found = [spec] if "mark" in spec else []
    return found + [inner for layer in spec.get("layer", ()) for inner in layers(layer)]


def named(spec: dict[str, Any], start: str) -> dict[str, list[dict[str, Any]]]:
    """Data of the layers whose name begins so."""
    return {
        each["name"]: each["data"]["values"]
        for each in layers(spec)
        if each.get("name", "").startswith(start)
    }
