"""Limits from a first phase, on the published piston rings (Montgomery, Introduction to SQC, 2nd ed. 1991)."""

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from statistics import fmean

import pytest
from review_cases import NOW, day_station, ring_station, rings

from spc.errors import Refused
from spc.station import Station

SIGNED_AT = datetime(2026, 3, 10, 8, tzinfo=UTC)
OF = ("RING", "M1", "inside_diameter")
D2_OF_5 = 2.326  # ASTM STP 15D


@pytest.fixture
def station() -> Station:
    return ring_station()


def check_in(station: Station, values: list[str], hours: int = 1) -> str:
    time = SIGNED_AT + timedelta(hours=hours)
    group = station.check_in(
        {"time": time.isoformat(), "machine": "M1", "part": "RING", "values": {"inside_diameter": values}}
    ).subgroup("inside_diameter")
    assert group is not None
    return f"{group.standing} {group.lower:.6f} {group.upper:.6f}"


def test_nothing_left_out_gives_the_published_limits(station: Station) -> None:
    phase = station.first_phase(*OF)
    assert phase.limits.centre == pytest.approx(74.001, abs=0.0005)
    assert phase.limits.spread_centre == pytest.approx(0.023, abs=0.0005)
    assert phase.upper == pytest.approx(74.014, abs=0.001)  # printed from rounded R-bar; exact 74.0146
    assert phase.lower == pytest.approx(73.988, abs=0.0005)
    assert phase.spread_upper == pytest.approx(0.049, abs=0.0005)
    assert (phase.n, phase.limits.subgroups, len(phase.checks)) == (5, 25, 25)
    assert phase.outside == ()  # published: in control
    assert phase.remark == ""


def test_one_left_out_with_a_reason_computes_again(station: Station) -> None:
    first = station.first_phase(*OF).checks[0]
    phase = station.first_phase(*OF, excluded={first.check_id: "gauge not yet at 20 °C"})
    others = [[float(value) for value in group] for group in rings()][1:]
    assert phase.limits.centre == pytest.approx(fmean(fmean(group) for group in others), abs=1e-9)
    sigma = fmean(max(group) - min(group) for group in others) / D2_OF_5
    assert phase.upper == pytest.approx(phase.limits.centre + 3 * sigma / math.sqrt(5), abs=5e-6)
    assert phase.limits.subgroups == 24
    assert [each.excluded for each in phase.checks if each.excluded] == ["gauge not yet at 20 °C"]
    assert [point.left_out for point in phase.history.points].count(True) == 1
    assert not any(point.struck_out for point in phase.history.points)
    assert {point.standing for point in phase.history.points} == {"proposed"}


def test_signed_limits_judge_from_then_on_and_keep_what_was_left_out(station: Station) -> None:
    checks = station.first_phase(*OF).checks
    before = check_in(station, rings()[0], hours=-1)
    assert before.startswith("provisional")
    left_out = {checks[3].check_id: "burr on piece 2"}
    end = checks[-1].time + timedelta(minutes=1)
    phase = station.first_phase(*OF, to_time=end, excluded=left_out)
    fact = station.sign_first_phase(
        *OF, to_time=end, excluded=left_out, by="M. Ober", reason="proving run", at=SIGNED_AT
    )
    assert fact.excluded == ((checks[3].check_id, "burr on piece 2"),)
    assert (fact.period_from, fact.period_to) == (checks[0].time, checks[-1].time)
    assert (fact.subgroups, fact.n) == (24, 5)
    assert check_in(station, rings()[1]) == f"signed {phase.lower:.6f} {phase.upper:.6f}"
    limits = station.review("RING", "M1").characteristics[0].limits
    assert limits is not None
    assert (limits.standing, limits.signed_by, limits.subgroups) == ("signed", "M. Ober", 24)


def test_history_tells_every_set_from_when_to_when(station: Station) -> None:
    assert station.limits_history(*OF) == ()
    third = station.first_phase(*OF).checks[2]
    station.sign_limits(*OF, by="A. Setter", at=SIGNED_AT - timedelta(days=2))
    station.sign_first_phase(
        *OF,
        excluded={third.check_id: "new bar batch"},
        by="M. Ober",
        reason="whole proving run",
        at=SIGNED_AT,
    )
    old, new = station.limits_history(*OF)
    assert (old.by, old.subgroups, old.until, old.excluded) == ("A. Setter", 20, SIGNED_AT, ())
    assert (new.by, new.subgroups, new.signed_from, new.until) == ("M. Ober", 24, SIGNED_AT, None)
    assert [(each.time, each.reason) for each in new.excluded] == [(third.time, "new bar batch")]
    assert new.lower < new.centre < new.upper


def test_a_plan_that_aims_elsewhere_ends_what_was_signed(station: Station) -> None:
    station.sign_first_phase(*OF, by="M. Ober", reason="proving run", at=SIGNED_AT)
    plan = station.plans()[0]
    later = SIGNED_AT + timedelta(days=1)
    station.take_plan(plan.text.replace("upper = 74.050", "upper = 74.060"), at=later)
    assert station.limits_history(*OF)[0].until == later


def test_limits_of_the_plan_are_history_too(station: Station) -> None:
    text = station.plans()[0].text
    text += 'limits = {centre = 74.001, sigma_within = 0.0098, signed_by = "P. Lan"}\n'
    station.take_plan(text, at=SIGNED_AT)
    (only,) = station.limits_history(*OF)
    assert (only.is_from_plan, only.signed_from, only.by) == (True, SIGNED_AT, "P. Lan")


def test_a_wild_check_stands_out_and_is_still_said_when_left_out(station: Station) -> None:
    check_in(station, ["74.040", "74.041", "74.042", "74.039", "74.040"], hours=-3)
    phase = station.first_phase(*OF)
    assert [each.mean for each in phase.outside] == [pytest.approx(74.0404)]
    assert phase.outside[0].says[0].startswith("mean 74.0404 above the limit 74.01")
    wild = phase.outside[0].check_id
    again = station.first_phase(*OF, excluded={wild: "another alloy"})
    assert again.outside == ()
    assert again.checks[-1].says
    assert again.upper == pytest.approx(74.0146, abs=0.00005)


def test_struck_out_checks_never_come_in(station: Station) -> None:
    fourth = station.first_phase(*OF).checks[3]
    station.annul(fourth.check_id, "digits swapped", by="M. Ober")
    phase = station.first_phase(*OF)
    assert (phase.struck_out, phase.limits.subgroups) == (1, 24)
    assert fourth.check_id not in {each.check_id for each in phase.checks}


def test_single_pieces_are_judged_by_their_steps() -> None:
    values = [10.0 + step for step in (0, 1, 0, 2, 0, 1, 0, 2, 0, 1, 0, 2)]
    checks = [
        {"time": f"2026-03-0{1 + hour // 10}T{6 + hour % 10:02d}:00:00", "values": {"size": [f"{value:.3f}"]}}
        for hour, value in enumerate(
            19.9 + each / 1000 for each in (values[place] + 90 for place in range(12))
        )
    ]
    phase = day_station(checks).first_phase("P-1", "R1", "size")
    sigma = fmean(abs(b - a) / 1000 for a, b in pairwise(values)) / 1.128  # ASTM STP 15D
    assert (phase.n, phase.spread_upper, phase.limits.chart) == (1, None, "individuals")
    assert phase.upper - phase.limits.centre == pytest.approx(3 * sigma, rel=1e-3)
    assert "12 checks count" in phase.remark


def test_refusals_name_what_is_missing(station: Station) -> None:
    first = station.first_phase(*OF).checks[0]
    with pytest.raises(Refused, match="for a reason"):
        station.first_phase(*OF, excluded={first.check_id: " "})
    with pytest.raises(Refused, match="only if it is in the period"):
        station.first_phase(*OF, excluded={10_000: "why not"})
    with pytest.raises(Refused, match="Choose a longer period"):
        station.first_phase(*OF, to_time=first.time + timedelta(hours=3))
    station.sign_first_phase(*OF, by="M. Ober", reason="proving run", at=NOW)
    with pytest.raises(Refused, match="signed already"):
        station.sign_limits(*OF, by="A. Setter", at=NOW)
    with pytest.raises(Refused, match="no such characteristic"):
        station.first_phase("RING", "M1", "length")
    with pytest.raises(Refused) as refused:
        station.sign_first_phase(*OF, by=" ", reason="", at=NOW)
    assert [each.column for each in refused.value.refusals] == ["by", "reason"]
