"""Room inside the tolerance, and one die life with limits that slope."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from review_cases import DAY_PLAN, day_station
from scipy.stats import norm

from spc.shop import Characteristic, ToleranceLimits
from spc.station.room_to_wander import room_to_wander

SIZE = Characteristic(
    "width", "diameter", "mm", Decimal("40.0"), ToleranceLimits(Decimal("32.0"), Decimal("48.0"))
)
WEARS = DAY_PLAN.replace('kind = "diameter"', 'kind = "diameter"\nlimits = "with_die_wear"', 1)
START = datetime(2026, 3, 2, 6, tzinfo=UTC)


def test_a_capable_size_may_wander_between_modified_limits() -> None:
    # Montgomery, Introduction to SQC, 10.2.1 (formula from memory): USL - (Z - 3/sqrt n) sigma
    sigma, n = 1.0, 4
    room = room_to_wander(SIZE, 40.0, sigma, n)
    assert room is not None
    assert room.index == pytest.approx(16.0 / 6.0)
    assert room.modified.upper == pytest.approx(48.0 - (norm.isf(0.001) - 1.5))
    assert room.upper is not None
    assert room.lower is not None
    assert room.upper.limit - 40.0 == pytest.approx(40.0 - room.lower.limit)
    # independent: the risks at a mean with 1 piece in 100 out, and with 1 in 100,000 out
    rejectable, acceptable = 48.0 - norm.isf(0.01), 48.0 - norm.isf(1e-5)
    assert room.upper.beta_kept == pytest.approx(norm.cdf((room.upper.limit - rejectable) * 2.0))
    assert room.upper.alpha_kept == pytest.approx(norm.sf((room.upper.limit - acceptable) * 2.0))


def test_a_size_of_cp_below_two_gets_none() -> None:
    assert room_to_wander(SIZE, 40.0, 1.34, 4) is None
    assert room_to_wander(SIZE, 40.0, 1.33, 4) is not None


def test_one_limit_is_judged_by_the_way_to_it() -> None:
    one_sided = replace(SIZE, tolerance=ToleranceLimits(None, Decimal("48.0")))
    assert room_to_wander(one_sided, 44.0, 1.0, 4) is None
    room = room_to_wander(one_sided, 40.0, 1.0, 4)
    assert room is not None
    assert (room.lower, room.modified.lower) == (None, None)


def worn(slope_um_per_check: float, checks: int = 12) -> list[dict[str, object]]:
    return [
        {
            "time": (START + timedelta(hours=hour)).isoformat(),
            "counter": 100 + 200 * hour,
            "values": {
                "size": [f"{19.990 + slope_um_per_check * hour / 1000 + off:.4f}" for off in (0, 0.004)]
            },
        }
        for hour in range(checks)
    ]


def test_the_line_is_the_growth_of_the_die() -> None:
    mounted = ((START - timedelta(hours=1)).isoformat(), "die_set_mounted", "D-1")
    station = day_station(worn(2.0), [mounted], WEARS)
    (life,) = station.die_life_slopes(
        "P-1", "R1", "size", START - timedelta(days=1), START + timedelta(days=1)
    )
    assert (life.die_set, life.chart.subgroups, life.chart.beyond) == ("D-1", 12, ())
    assert life.chart.line.slope == pytest.approx(0.010)  # 2 µm in 200 pieces, by hand
    assert life.chart.half_width == pytest.approx(1.880 * 0.004, rel=1e-3)  # A2 for 2: ASTM STP 15D
    assert {point.standing for point in life.history.points} == {"sloping"}
    first, second = life.history.points[:2]
    assert first.lower is not None
    assert second.lower is not None
    assert second.lower - first.lower == pytest.approx(0.002)
    assert life.chart.life == pytest.approx((0.1 - 6 * 0.004 / 1.128) / 0.010, rel=1e-3)  # d2 for 2


def test_too_few_checks_of_a_set_are_no_life() -> None:
    mounted = ((START - timedelta(hours=1)).isoformat(), "die_set_mounted", "D-1")
    other = ((START + timedelta(hours=6, minutes=30)).isoformat(), "die_set_mounted", "D-2")
    station = day_station(worn(2.0, 16), [mounted, other], WEARS)
    when = (START - timedelta(days=1), START + timedelta(days=1))
    assert [life.die_set for life in station.die_life_slopes("P-1", "R1", "size", *when)] == ["D-2"]
    assert station.die_life_slopes("P-1", "R9", "size", *when) == ()
