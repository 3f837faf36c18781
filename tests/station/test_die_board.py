"""The die board: who must act first, clock times, what waiting costs, and the way of the set that is on."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from shaft import START, check, event, one_set, open_shop, with_costs

from spc.shop import Costs, HoursLeft, PiecesLeft
from spc.station import Station
from spc.station.change_advice import change_advice
from spc.station.change_waits import change_plan
from spc.station.die_clock import next_start
from spc.station.die_words import clock_span, end_words, planned_age_words, sudden_words
from spc.station.refold import present_state
from spc.station.state import StreamState
from spc.station.views import ChangePlan
from spc.wear import FinishedSet, SuddenEnds

SHIFTS = ("06:00", "14:00", "22:00")


@pytest.fixture(scope="module")
def shop() -> Station:
    """Two finished sets and a third with ten checks; another machine whose set is young."""
    live = with_costs()
    one_set(live, 0, "D-1", "worn")
    one_set(live, 20, "D-2", "chipped")
    one_set(live, 40, "D-3", "", grows=0.003)
    for kind, value in (("die_set_mounted", "D-4"), ("penetration", "38.000")):
        live.log(event(49, kind, value, machine="M2"))
    for hour in (1, 2):
        live.check_in(check(49 + hour, 31.246, 200 * hour, machine="M2"))
    live.now = lambda: START + timedelta(hours=51.5)
    return live


def test_next_starts_are_on_the_plants_clock() -> None:
    evening = datetime(2026, 3, 26, 21, 30, tzinfo=UTC)  # 22:30 in Berlin
    assert next_start(SHIFTS, "Europe/Berlin", evening) == datetime(2026, 3, 27, 5, tzinfo=UTC)
    # the night the clocks go forward: 06:00 comes an hour sooner
    spring = datetime(2026, 3, 28, 22, tzinfo=UTC)
    assert next_start(SHIFTS, "Europe/Berlin", spring) == datetime(2026, 3, 29, 4, tzinfo=UTC)
    exactly = datetime(2026, 3, 27, 5, tzinfo=UTC)
    assert next_start(SHIFTS, "Europe/Berlin", exactly) == datetime(2026, 3, 27, 13, tzinfo=UTC)
    assert next_start((), "UTC", exactly) is None


def test_times_in_words() -> None:
    since = datetime(2026, 3, 25, 13, tzinfo=UTC)
    far = clock_span(HoursLeft(12.0, 40.0, 1e9), since, "Europe/Berlin")
    assert far.startswith("Thu 02:00 to ")
    assert far.endswith("likely Fri 06:00")


@pytest.mark.parametrize(
    ("found", "says"),
    [
        (None, "not known before a set has come off"),
        (
            SuddenEnds(0, 3, 70_000, 0.007, 0.0, 0.027),
            "none of 3 finished sets chipped: less than one in 37,000 pieces",
        ),
        (
            SuddenEnds(2, 9, 150_000, 1 / 60, 1 / 200, 1 / 25),
            "2 of 9 finished sets chipped: about one in 60,000 pieces (one in 25,000 to one in 200,000)",
        ),
    ],
)
def test_sudden_ends_in_words(found: SuddenEnds | None, says: str) -> None:
    assert sudden_words(found) == says


def test_the_planned_age_in_words() -> None:
    costs = Costs(1_700, 6_000)
    ends = tuple(
        FinishedSet(f"D-{age}", age, ended=True, reason="worn") for age in range(30_000, 52_000, 2_000)
    )
    assert planned_age_words(StreamState("T-9", finished=ends), None) == ""
    assert planned_age_words(StreamState("T-9"), costs).startswith("No set of this part")
    many = planned_age_words(StreamState("T-9", finished=ends), costs)
    assert "11 of 11 finished sets" in many
    assert "assumed" not in many
    assert "Weibull shape" in many
    few = planned_age_words(StreamState("T-9", finished=ends[:2]), costs)
    assert few.endswith("how lives scatter is partly assumed until 10 have.")
    dear = planned_age_words(StreamState("T-9", finished=ends), Costs(6_000, 1_700))
    assert dear.startswith("Running to the end costs least")


def test_the_review_says_the_planned_age(shop: Station) -> None:
    said = shop.review("T-9", "M1", at=START + timedelta(hours=52)).planned_age
    assert "2 of 2 finished sets" in said


def test_who_must_act_first_stands_first(shop: Station) -> None:
    first, second = shop.die_board()
    assert (first.machine, second.machine) == ("M1", "M2")
    assert first.hours is not None
    assert second.hours is not None
    assert first.hours.early < second.hours.early


def test_a_machine_on_hold_comes_before_every_forecast() -> None:
    live = with_costs()
    one_set(live, 0, "D-1", "worn")
    one_set(live, 20, "D-2", "")
    live.log(event(30, "die_set_mounted", "D-9", machine="M2"))
    live.check_in(check(31, 31.300, 100, machine="M2"))  # far above the upper limit
    assert [row.machine for row in live.die_board()] == ["M2", "M1"]


def test_growth_is_compared_with_earlier_sets_and_chips_are_told_apart(shop: Station) -> None:
    row = shop.die_board()[0]
    assert row.earlier_growth is not None
    assert row.earlier_growth.sets == 2
    assert row.earlier_growth.low <= row.earlier_growth.high
    assert row.sudden is not None
    assert (row.sudden.chipped, row.sudden.sets) == (1, 2)
    assert row.has_costs
    assert row.life is not None
    assert "over pins" in end_words(row.life)


def planned(shop: Station, now: timedelta) -> ChangePlan:
    """The third set 3,000 pieces old, with more pieces left than it truly has; so long after its last check."""
    row = shop.die_board()[0]
    with shop.store.reading() as shelf:
        state = present_state(shelf, "T-9")
    left = PiecesLeft(2_000, 2_500, 3_000, 3_600, 4_400)
    assert row.life is not None
    assert row.last_check is not None
    assert state.plan is not None
    life = replace(row.life, pieces_left=left, change=change_advice(state, 3_000, left))
    plan = replace(state.plan, breaks=("01:00", "05:00", "09:00", "13:00", "17:00", "21:00"))
    found = change_plan(state, plan, life, 3_000, 300.0, row.last_check, row.last_check + now)
    assert found is not None
    return found


def test_waiting_costs_more_the_longer_it_lasts(shop: Station) -> None:
    """Beyond the advised moment: first the break, then the shift, each dearer and with more sets ended."""
    found = planned(shop, timedelta(0))
    assert found.currency == "EUR"
    assert found.at is not None
    assert not found.is_past
    assert [each.until for each in found.waits] == ["the break", "the shift"]
    pause, shift = found.waits
    assert found.at < pause.at < shift.at <= found.at + timedelta(hours=8)
    assert -1.0 < pause.costs_more < shift.costs_more
    assert 0.0 <= pause.chance_of_end < shift.chance_of_end <= 1.0


def test_a_moment_that_is_over_is_told_so(shop: Station) -> None:
    found = planned(shop, timedelta(hours=20))
    assert found.is_past
    assert found.waits  # counted from now


def test_after_a_day_without_a_check_nobody_knows_what_ran(shop: Station) -> None:
    assert planned(shop, timedelta(days=9)).waits == ()


def test_the_way_of_the_set_that_is_on(shop: Station) -> None:
    story = shop.wear_story("T-9", "M1")
    assert story is not None
    assert (story.die_set, story.age, len(story.points)) == ("D-3", 3_000, 10)
    assert story.characteristic.name == "over_pin"
    # aim 31.249 or the middle, plus gain times travel (about 0.8 × 60 µm)
    assert story.end_size - float(story.characteristic.aim) == pytest.approx(0.048, abs=0.008)
    assert {line.die_set for line in story.earlier} == {"D-1", "D-2"}
    for line in story.earlier:
        ages, sizes = zip(*line.points, strict=True)
        assert list(ages) == sorted(ages)
        assert list(sizes) == sorted(sizes)
        assert sizes[-1] <= story.end_size + 1e-9
    assert all(point.low is not None and point.low < point.size + 0.01 for point in story.points)


def test_no_way_where_nothing_is_known() -> None:
    live = open_shop()
    assert live.wear_story("T-9", "M1") is None
    live.check_in(check(1))  # without a counter there is no age
    assert live.wear_story("T-9", "M1") is None


def test_a_reground_set_begins_anew() -> None:
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 5):
        live.check_in(check(hour, 31.250 + 0.001 * hour, 300 * hour))
    live.log(event(4.5, "die_set_removed", "worn", counter=1300))
    live.log(event(4.6, "die_set_reground", "D-1"))
    live.log(event(4.7, "die_set_mounted", "D-1"))
    for hour in range(1, 4):
        live.check_in(check(5 + hour, 31.250, 250 * hour))
    story = live.wear_story("T-9", "M1")
    assert story is not None
    assert [point.age for point in story.points] == [250, 500, 750]
    assert Decimal(str(story.points[0].size)) == Decimal("31.25")
