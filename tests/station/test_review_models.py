"""The review of a die that wears under a slide that follows: which index answers, and what the trend costs."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from statistics import fmean, stdev

import numpy as np
import pytest

from spc.shop import Characteristic, ToleranceLimits
from spc.station.answering_index import answering_index, answering_now
from spc.station.review_capability import capability_found
from spc.station.review_indices import index_of, indices_shown
from spc.station.review_trend import without_trend
from spc.station.views import CheckPoint
from spc.statistics import model_capability

START = datetime(2026, 3, 2, 5, tzinfo=UTC)
WEARS = Characteristic(
    "over_pin", "over_pin_diameter", "mm", Decimal("27.460"), ToleranceLimits(Decimal("27.445"), Decimal("27.475")),
    set_by="penetration", judged_by="with_die_wear", minimum_cpk=1.33,
)  # fmt: skip
FIXED = replace(WEARS, judged_by="fixed", set_by="none", kind="diameter")
RUNOUT = replace(
    FIXED, name="runout", kind="runout", nominal=Decimal(0), tolerance=ToleranceLimits(None, Decimal("0.030"))
)


def check(number: int, values: list[float], **more: object) -> CheckPoint:
    mean = fmean(values)
    told = {
        "check_id": number, "time": START + timedelta(hours=number), "axis_pieces": 300.0 * number, "die_set": "D-1",
        "counter": 300 * number, "age": 300 * number, "purpose": "hourly", "n": len(values), "values": tuple(values),
        "mean": mean, "range": max(values) - min(values), "mean_at_reference_setting": mean, "centre": None,
        "lower": None, "upper": None, "spread_upper": None, "standing": "", "verdict": "run", "says": (),
        "struck_out": False, "suspect": False,
    }  # fmt: skip
    return CheckPoint(**(told | more))  # type: ignore[arg-type]  # as the record names them


def wearing(moves: bool) -> list[CheckPoint]:
    """Two die lives of 30 checks: 1 µm a check, the slide 6 µm deeper at every sixth check where it moves."""
    chance = np.random.default_rng(7)
    found = []
    for number in range(60):
        age = number % 30
        wear = 0.001 * age
        moved = -0.006 * (age // 6) if moves else 0.0
        values = [27.457 + wear + moved + float(each) for each in chance.normal(0.0, 0.0015, 5)]
        reference = fmean(values) - moved
        found.append(
            check(
                number,
                values,
                die_set=f"D-{number // 30 + 1}",
                age=300 * age,
                mean_at_reference_setting=reference,
            )
        )
    return found


def test_wear_and_slide_moves_come_out_and_the_pieces_remain() -> None:
    left = without_trend(WEARS, wearing(moves=True))
    assert left is not None
    assert (left.lives, left.short, left.moves, left.n, left.subgroups) == (2, 0, True, 300, 60)
    assert left.capability.sigma_overall == pytest.approx(0.0015, rel=0.1)  # the spread they were made with
    assert left.share > 0.4
    points = wearing(moves=True)
    assert left.capability.mean == pytest.approx(fmean(v for each in points for v in each.values), abs=1e-9)


def test_without_a_setting_on_record_only_the_line_comes_out() -> None:
    unknown = [replace(each, mean_at_reference_setting=None) for each in wearing(moves=False)]
    left = without_trend(WEARS, unknown)
    assert left is not None
    assert not left.moves
    assert left.capability.sigma_overall == pytest.approx(0.0015, rel=0.1)


def test_a_set_that_comes_back_younger_begins_a_life_of_its_own() -> None:
    same = [replace(each, die_set="D-1") for each in wearing(moves=True)]
    left = without_trend(WEARS, same)
    assert left is not None
    assert left.lives == 2


def test_one_check_a_life_leaves_no_line() -> None:
    each_its_own = [
        replace(each, die_set=f"D-{number}") for number, each in enumerate(wearing(moves=True)[:3])
    ]
    assert without_trend(WEARS, each_its_own) is None


def test_ppk_answers_where_the_size_follows_the_die() -> None:
    found = capability_found(WEARS, wearing(moves=True))
    assert found.model is not None
    wanted = found.requirement
    assert wanted is not None
    every = [value for each in wearing(moves=True) for value in each.values]
    nearest = min(27.475 - fmean(every), fmean(every) - 27.445) / (3 * stdev(every))
    assert wanted.judged_on == "Ppk"
    assert wanted.estimate == pytest.approx(nearest, rel=1e-9)
    assert wanted.why == answering_index(WEARS)[1]
    assert indices_shown(found.model, follows=True)[0].name == "Ppk"


def test_the_answer_holds_the_lower_end_against_the_demand() -> None:
    index = capability_found(WEARS, wearing(moves=True)).requirement
    assert index is not None
    assert index.low is not None
    assert index.estimate is not None
    for minimum, answer in (
        (index.low - 0.01, "shown"),
        ((index.low + index.estimate) / 2, "too few pieces to tell"),
        (index.estimate + 0.01, "not shown"),
    ):
        again = capability_found(replace(WEARS, minimum_cpk=minimum), wearing(moves=True)).requirement
        assert again is not None
        assert again.answer == answer


def test_cpk_answers_a_fixed_level_until_it_moves() -> None:
    chance = np.random.default_rng(3)
    still = [check(n, [27.46 + float(v) for v in chance.normal(0.0, 0.002, 5)]) for n in range(30)]
    steady, moved = (capability_found(FIXED, each).requirement for each in (still, wearing(moves=False)))
    assert steady is not None
    assert moved is not None
    assert (steady.judged_on, moved.judged_on) == ("Cpk", "Ppk")
    assert answering_index(FIXED)[0] == "Cpk"
    assert answering_now(FIXED, steady=False)[0] == "Ppk"


def test_a_size_from_zero_is_read_from_its_own_model() -> None:
    chance = np.random.default_rng(5)
    points = [check(n, [float(v) for v in chance.rayleigh(0.004, 3)]) for n in range(40)]
    found = capability_found(replace(RUNOUT, minimum_cpk=1.0), points)
    assert found.model is not None
    assert found.model.model.name == "rayleigh"
    assert found.without_trend is None
    assert [line.name for line in indices_shown(found.model)] == ["Ppk"]
    # Rayleigh of scale s: X50 = s sqrt(2 ln 2), X99.865 = s sqrt(-2 ln 0.00135) (ISO 22514-2, from memory)
    scale = np.sqrt(np.mean([v**2 for each in points for v in each.values]) / 2)
    middle, far = scale * np.sqrt(2 * np.log(2)), scale * np.sqrt(-2 * np.log(0.00135))
    assert index_of(found.model, "Cpk").estimate == pytest.approx((0.030 - middle) / (far - middle), rel=1e-3)
    assert found.requirement is not None
    assert found.requirement.judged_on == "Ppk"


def test_target_index_has_no_interval_by_checks() -> None:
    groups = [list(each.values) for each in wearing(moves=True)]
    lines = {line.name: line for line in indices_shown(model_capability(groups, 27.445, 27.475, 27.46))}
    assert lines["Cpm"].honest is None
    assert lines["Cpm"].index is lines["Cpm"].textbook
    assert lines["Ppk"].index is lines["Ppk"].honest
