"""The die board as a supervisor reads it: what to change when, at what cost, and why."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from small_shop import words
from streamlit.testing.v1 import AppTest

from spc.drawing import pieces_left_picture, to_svg
from spc.pages.change_words import change_words, growth_words, no_advice_words
from spc.shop import ChangeAdvice, ChangeRule, WearRate
from spc.station.views import ChangePlan, DieBoardRow, EarlierGrowth, Wait

RunPage = Callable[..., AppTest]
SINCE = datetime(2026, 3, 25, 13, tzinfo=UTC)  # Wednesday, 14:00 in Berlin
BY_WEAR = ChangeRule("measured_wear", 3_400, 21_710, 0.0721)
BY_AGE = ChangeRule("planned_age", 1_200, 19_510, 0.0784, 262.0, 16_400, 25_100)


def later(hours: float) -> datetime:
    return SINCE + timedelta(hours=hours)


CHANGE = ChangePlan(
    ChangeAdvice("measured_wear", 3_400, 21_710, (BY_WEAR, BY_AGE), "…"),
    later(11.3),
    False,
    (later(11.3), later(4.0)),
    (Wait("the break", later(12.0), 4.2, 0.004), Wait("the shift", later(16.0), 88.0, 0.17)),
    "EUR",
)
ROW = DieBoardRow(
    "R1", "4711", "pinion", "D-07", 18_310, None, 0.032, 3, 300.0, SINCE, "run", "Europe/Berlin",
    change=CHANGE, has_costs=True,
)  # fmt: skip


def test_the_cheaper_and_the_earlier_and_what_waiting_costs() -> None:
    assert change_words(ROW) == [
        "within 3,400 pieces, by Thu 01:20, by its own wear: cheapest, 0.072 EUR a piece over the life of the set",
        "by planned age 20,000 pieces (16,000 to 25,000): earlier, in 1,200 pieces, Wed 18:00; about 260 EUR more",
        "waiting until the break at Thu 02:00 costs about 4 EUR more; less than 1 in 100 sets end before",
        "waiting until the shift at Thu 06:00 costs about 88 EUR more; 17 in 100 sets end before",
    ]


@pytest.mark.parametrize(
    ("rule", "change", "says"),
    [
        (replace(BY_WEAR, pieces=0), {"at": SINCE}, "now, by its own wear (0.072 EUR"),
        (replace(BY_WEAR, pieces=None), {"at": None}, "run to the end, by its own wear"),
        (BY_WEAR, {"is_past": True}, "due since Thu 01:20 if the machine ran on"),
    ],
)
def test_other_moments(rule: ChangeRule, change: dict[str, object], says: str) -> None:
    advice = ChangeAdvice("measured_wear", rule.pieces, rule.age, (rule, BY_AGE), "…")
    row = replace(ROW, change=replace(CHANGE, advice=advice, **change))  # type: ignore[arg-type]  # names of its fields
    assert change_words(row)[0].startswith(says)


def test_waiting_that_costs_next_to_nothing() -> None:
    wait = Wait("the break", later(12.0), 0.3, 0.004)
    says = change_words(replace(ROW, change=replace(CHANGE, waits=(wait,))))[-1]
    assert (
        says
        == "waiting until the break at Thu 02:00 costs next to nothing more; less than 1 in 100 sets end before"
    )


def test_a_set_past_its_planned_age() -> None:
    advice = ChangeAdvice("measured_wear", 3_400, 21_710, (BY_WEAR, replace(BY_AGE, pieces=0)), "…")
    assert "the set is past it" in change_words(replace(ROW, change=replace(CHANGE, advice=advice)))[1]


def test_why_there_is_no_advice() -> None:
    assert "names no costs" in no_advice_words(replace(ROW, has_costs=False))[0]
    assert "no set of this part" in no_advice_words(replace(ROW, finished_sets=0))[0]
    assert "not enough is known" in change_words(replace(ROW, change=None))[0]


@pytest.mark.parametrize(
    ("earlier", "says"),
    [
        (None, "no earlier set to compare with"),
        (EarlierGrowth(1.2, 1.2, 1), "the earlier set 1.2 on average"),
        (EarlierGrowth(0.9, 1.6, 4), "4 earlier sets 0.9 to 1.6 on average"),
    ],
)
def test_growth_beside_earlier_sets(earlier: EarlierGrowth | None, says: str) -> None:
    assert growth_words(WearRate(1.4, 1.2, 1.6), earlier) == f"1.4 µm per 1,000 pieces (1.2 to 1.6); {says}"


def test_the_page_of_a_young_shop(run_page: RunPage) -> None:
    """Before the first finished set: no clock, no money, no chips, and the way of the set as far as it is known."""
    page = run_page("die_board:die_board_page")
    says = words(page)
    assert "R1 · P-31 · die set D-07" in says
    assert "holding over pins needs more infeed than the set may use" in says
    assert "names no costs of a die change" in says
    assert "not known before a set has come off" in says
    assert "On the clock" not in says


def test_the_board_says_at_first_sight_when_a_change_is_cheapest() -> None:
    """The supervisor asks which dies come off tonight: the picture on top answers."""
    assert "change by " in to_svg(pieces_left_picture((ROW,), "light"))
    past = replace(ROW, change=replace(CHANGE, is_past=True))
    assert "if it ran on: check" in to_svg(pieces_left_picture((past,), "light"))
    assert "change by" not in to_svg(pieces_left_picture((replace(ROW, change=None),), "light"))
