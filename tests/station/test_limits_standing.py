"""What judges the next check, and limits that reach beyond the tolerance."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from review_cases import NOW, RINGS_PLAN, ring_station, rings

from spc.errors import Refused
from spc.station import Station
from spc.station.beyond_tolerance import beyond_tolerance

OF = ("RING", "M1", "inside_diameter")
SIGNED_AT = datetime(2026, 3, 10, 8, tzinfo=UTC)


def narrow() -> Station:
    """The rings (Montgomery, 2nd ed. 1991: limits 73.988 to 74.014) under a tolerance narrower than these."""
    station = ring_station()
    narrower = RINGS_PLAN.replace("74.050", "74.010").replace("73.950", "73.990")
    station.take_plan(narrower, at=datetime(2026, 3, 5, tzinfo=UTC))
    return station


def test_a_signature_stands_at_once_and_waits_for_its_first_check() -> None:
    station = ring_station()
    (before,) = station.limits_standing("RING", "M1")
    assert before.is_open
    assert not before.is_waiting
    station.sign_limits(*OF, by="Q. Lead", at=SIGNED_AT)
    (signed,) = station.limits_standing("RING", "M1")
    assert signed.limits is not None
    assert (signed.limits.signed_by, signed.is_open, signed.is_waiting) == ("Q. Lead", False, True)
    time = (SIGNED_AT + timedelta(hours=1)).isoformat()
    station.check_in(
        {"time": time, "machine": "M1", "part": "RING", "values": {"inside_diameter": rings()[0]}}
    )
    (judged,) = station.limits_standing("RING", "M1")
    assert not judged.is_waiting


def test_a_machine_without_checks_has_none() -> None:
    (one,) = ring_station().limits_standing("RING", "M9")
    assert one.limits is None
    assert "20 good hourly checks" in one.says


def test_limits_beyond_the_tolerance_are_said_and_want_a_reason() -> None:
    station = narrow()
    (one,) = station.limits_standing("RING", "M1")
    assert one.beyond.startswith("The lower limit 73.98")
    assert "below the smallest allowed 73.990 and the upper limit 74.01" in one.beyond
    assert "above the largest allowed 74.010" in one.beyond
    with pytest.raises(Refused, match="signed with a reason") as refused:
        station.sign_limits(*OF, by="Q. Lead", at=NOW, reason=" ")
    assert refused.value.refusals[0].column == "reason"
    fact = station.sign_limits(*OF, by="Q. Lead", at=NOW, reason="sorted until the new machine comes")
    assert fact.reason == "sorted until the new machine comes"


def test_limits_on_the_tolerance_are_inside_it() -> None:
    characteristic = ring_station().plans()[0].gauged[0]
    assert characteristic.tolerance.upper == Decimal("74.050")
    assert beyond_tolerance(characteristic, 73.95, 74.05) == ""
    both = beyond_tolerance(characteristic, 73.949, 74.051)
    assert "lower limit 73.9490 lies below the smallest allowed 73.950 and the upper" in both
