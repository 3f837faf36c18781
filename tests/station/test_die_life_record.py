"""What the record says of the dies: hours left, sudden ends, the wear line, and when a change is cheapest."""

import json
from dataclasses import replace

import pytest
from shaft import check, event, one_set, open_shop, running, with_costs

from spc.shop import PiecesLeft, Verdict
from spc.shop.plain import from_plain
from spc.station.change_advice import change_advice, set_ahead
from spc.station.kept import text_of
from spc.station.refold import present_state
from spc.wear import FinishedSet


def test_hours_left_are_the_pieces_at_the_present_rate() -> None:
    live = open_shop()
    running(live, 4)
    life = live.check_in(check(5, 31.251, 1650)).die_life
    assert life is not None
    assert life.hours_left is not None
    left = life.pieces_left  # 450 pieces in the last hour, as typed
    assert (left.p05, left.p50, left.p95) == pytest.approx(
        tuple(450 * each for each in (life.hours_left.early, life.hours_left.likely, life.hours_left.late))
    )


def test_before_the_first_set_comes_off_neither_chips_nor_ages_are_known() -> None:
    live = with_costs()
    running(live, 3)
    verdict = live.check_in(check(4, counter=1200))
    assert verdict.die_life is not None
    assert verdict.die_life.sudden_end_per_1000 is None
    assert verdict.die_life.change is None
    assert not {"change", "sudden_end_per_1000"} & set(verdict.to_dict()["die_life"])


def test_finished_sets_say_how_often_a_chip_comes_and_when_to_change() -> None:
    live = with_costs()
    one_set(live, 0, "D-1", "worn")
    one_set(live, 20, "D-2", "chipped")
    verdict = one_set(live, 40, "D-3", "")
    life = verdict.die_life
    assert life is not None
    assert life.sudden_end_per_1000 is not None
    assert life.sudden_end_per_1000.estimate == pytest.approx(1.5 / 6.2)  # (1 + ½) in 2 × 3,100 pieces
    change = life.change
    assert change is not None
    by_wear, by_age = change.rules
    assert (by_wear.rule, by_age.rule) == ("measured_wear", "planned_age")
    assert by_age.age is not None
    assert by_age.age_low90 is not None
    assert by_age.age_low90 < by_age.age < 3_100  # sets of this part lasted 3,100
    assert by_age.pieces == max(by_age.age - 3_000, 0)
    assert min(by_wear.costs_more, by_age.costs_more) == 0.0
    assert change.by in ("measured_wear", "planned_age")
    line = verdict.to_dict()["die_life"]
    assert line["change"]["rules"][1]["age"] == by_age.age
    assert line["hours_left"]["early"] <= line["hours_left"]["likely"]
    assert "EUR a piece" in line["change"]["says"]


def test_the_record_gives_back_what_was_said() -> None:
    live = with_costs()
    one_set(live, 0, "D-1", "worn")
    verdict = one_set(live, 20, "D-2", "")
    kept = from_plain(Verdict, json.loads(text_of(verdict)))
    assert kept == verdict
    without = json.loads(text_of(verdict))
    for key in ("change", "hours_left", "sudden_end_per_1000"):
        del without["die_life"][key]
    older = from_plain(Verdict, without)  # an older record's verdict has none of these
    assert older.die_life is not None
    assert older.die_life.change is None


def test_without_costs_there_is_no_advice_on_money() -> None:
    live = open_shop()
    one_set(live, 0, "D-1", "worn")
    life = one_set(live, 20, "D-2", "").die_life
    assert life is not None
    assert life.change is None
    assert life.sudden_end_per_1000 is not None


@pytest.mark.parametrize(
    ("left", "says"),
    [
        (PiecesLeft(4_000, 6_000, 8_000, 10_000, 14_000), "change within"),
        (PiecesLeft(0, 10, 20, 40, 900), "change now"),
    ],
)
def test_the_advice_in_words(left: PiecesLeft, says: str) -> None:
    live = with_costs()
    running(live, 1)
    with live.store.reading() as shelf:
        state = present_state(shelf, "T-9")
    finished = tuple(
        FinishedSet(f"D-{each}", each, ended=True, reason="worn") for each in (38_000, 41_000, 44_000)
    )
    advice = change_advice(replace(state, finished=finished), 20_000, left)
    assert advice is not None
    assert advice.says.startswith(says)
    assert advice.pieces is not None
    assert advice.age == 20_000 + advice.pieces


def test_an_end_that_cannot_be_seen_gives_no_advice() -> None:
    live = with_costs()
    running(live, 1)
    with live.store.reading() as shelf:
        state = present_state(shelf, "T-9")
    assert set_ahead(state, 100, PiecesLeft(4_000, None, None, None, None)) is None


def test_the_wear_line_leaves_out_what_the_slide_did() -> None:
    """Growth of 3 µm an hour; the slide goes 12 µm deeper on the way, and the line goes on as if it had not."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    lines = []
    for hour in range(1, 13):
        if hour == 7:
            live.log(event(6.5, "penetration", "12.352"))
        size = 31.240 + 0.003 * hour - (0.012 * 0.8 if hour >= 7 else 0.0)
        group = live.check_in(check(hour, size, 300 * hour)).subgroup("over_pin")
        assert group is not None
        assert group.wear_line is not None
        assert group.wear_line.low90 < group.wear_line.estimate < group.wear_line.high90
        lines.append(group.wear_line)
    assert lines[-1].estimate == pytest.approx(31.240 + 0.003 * 12, abs=0.004)
    assert lines[-1].estimate - lines[5].estimate == pytest.approx(0.018, abs=0.004)
