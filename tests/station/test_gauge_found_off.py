"""A gauge set on its master: whose readings move, and since when the earlier ones are in doubt."""

import pytest
from shaft import check, event, open_shop, running

from spc.station.refold import present_state


def level(live, name):
    with live.store.reading() as shelf:
        belief = present_state(shelf, "T-9").die_sets["D-1"].beliefs[name]
    return belief.mean[0]


def both(live, checks=8):
    running(live, 0)
    for hour in range(1, checks + 1):
        live.check_in(check(hour, counter=300 * hour, values={"bow": ["0.010", "0.012"]}))
    return live


@pytest.mark.parametrize("note", ["over_pin", "over pins", "Over pins"])
def test_a_named_gauge_moves_its_characteristic_alone(note):
    """Contract section 2: "`note` = characteristic or gauge"; as-found +5 µm means that readings fall by 5."""
    live = both(open_shop())
    before = {name: level(live, name) for name in ("over_pin", "bow")}
    live.log(event(8.2, "gauge_mastered", "5.0", note=note))
    assert level(live, "over_pin") == pytest.approx(before["over_pin"] - 5.0)
    assert level(live, "bow") == before["bow"]


def test_a_gauge_with_a_name_of_its_own_may_be_any():
    """Nobody said what "bench 2" reads: no level moves, and any may."""
    live = both(open_shop())
    before = {name: level(live, name) for name in ("over_pin", "bow")}
    live.log(event(8.2, "gauge_mastered", "3.5", note="bench 2"))
    assert {name: level(live, name) for name in before} == before
    verdict = live.check_in(check(9, 31.2465, 2700))
    assert ["bench 2" in each.says for each in verdict.explained] == [True]


def off(live, by, note="over_pin"):
    live.log(event(8.2, "gauge_mastered", by, note=note))
    return [each.says for each in live.check_in(check(9, 31.250 - float(by) / 1000, 2700)).notices]


def test_more_than_a_tenth_of_the_tolerance_puts_earlier_readings_in_doubt():
    """Process knowledge, section 6.1: "the readings since the last good mastering are suspect" (36 µm of tolerance)."""
    live = both(open_shop())
    live.log(event(3.5, "gauge_mastered", "0.2", note="over_pin"))
    says = off(live, "5.0")
    assert says == [
        "the gauge for over pins was 5.0 µm off, 14 % of its tolerance: what it read since 04 May, 11:30 is in doubt"
    ]


def test_no_doubt_below_a_tenth():
    assert off(both(open_shop()), "3.0") == []


def test_without_an_earlier_setting_all_before_is_in_doubt():
    says = off(both(open_shop()), "5.0")
    assert says[0].endswith(
        "what it read before 16:12 is in doubt, no earlier setting on its master is known"
    )


def test_a_gauge_that_nobody_named_is_held_against_the_tightest_tolerance():
    says = off(both(open_shop()), "5.0", note="")
    assert says[0].startswith("a gauge that nobody named was 5.0 µm off, 14 % of the tolerance of over pins")


def test_it_is_said_once():
    live = both(open_shop())
    assert off(live, "5.0")
    assert live.check_in(check(10, 31.245, 3000)).notices == ()


@pytest.mark.parametrize("found", ["0.0", "0.1", "-0.2"])
def test_a_gauge_that_held_its_zero_has_moved_nothing(found):
    """A master read 0.0 µm off leaves the readings where they were; a jump of 8 µm after it is another's doing."""
    live = both(open_shop(), 12)
    live.log(event(12.2, "gauge_mastered", found, note="over_pin"))
    jumped = live.check_in(check(13, 31.258, 3900))
    causes = [each.cause for signal in jumped.signals for each in signal.explanations]
    assert causes[0] == "step"
    assert "gauge_zero" not in causes


def test_a_gauge_hardly_off_explains_no_change_ten_times_as_large():
    """“3.9 µm up with the gauge set on its master, -0.4 µm off” is untrue: half at least must be the gauge."""
    live = both(open_shop(), 12)
    live.log(event(12.2, "gauge_mastered", "0.4", note="over_pin"))
    verdict = live.check_in(check(13, 31.2464, 3900))
    assert "gauge_zero" not in {each.cause for each in verdict.explained}


def offset(live):
    """As believed, and its variance."""
    with live.store.reading() as shelf:
        belief = present_state(shelf, "T-9").die_sets["D-1"].beliefs["over_pin"]
    return belief.mean[0], belief.var(0)


def test_a_step_that_was_the_gauge_is_forgotten():
    """What was read 12 µm too large is no step of the dies: they are believed as before, and so are the pieces left."""
    live = both(open_shop())
    before = offset(live)
    told = live.check_in(check(9, 31.262, 2700))
    assert "beyond_limits" in {each.kind for each in told.signals}
    live.log(event(9.2, "gauge_mastered", "12.0", note="over_pin"))
    assert offset(live) == before
    assert live.check_in(check(9.4, counter=2705)).verdict == "run"


@pytest.mark.parametrize(
    "instead",
    [("gauge_mastered", "2.0", "over_pin"), ("blank_batch", "B-9", "")],
    ids=["hardly off", "bars too"],
)
def test_a_step_that_the_gauge_does_not_account_for_alone_stays(instead):
    live = both(open_shop())
    before = offset(live)
    live.check_in(check(9, 31.262, 2700))
    kind, value, note = instead
    live.log(event(9.1, kind, value, note=note))
    live.log(event(9.2, "gauge_mastered", "12.0" if kind == "blank_batch" else "0.0", note="over_pin"))
    assert offset(live)[1] > 2.0 * before[1]
