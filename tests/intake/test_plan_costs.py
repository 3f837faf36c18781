"""Costs and breaks in a plan: read as written, refused with key, line and what is allowed."""

import pytest
from intake_samples import PLAN

from spc.errors import Refusal, Refused
from spc.intake import read_plan
from spc.shop import Costs

COSTS = """
[costs]
planned_die_change = 1700
unplanned_die_change = 2400.50
scrap_per_piece = 12
spoilt_pieces = 300
currency = "EUR"
"""


def refusals_of(text: str) -> tuple[Refusal, ...]:
    with pytest.raises(Refused) as refused:
        read_plan(text)
    return refused.value.refusals


def test_costs_are_read_as_written() -> None:
    costs = read_plan(PLAN + COSTS).costs
    assert costs == Costs(1700.0, 2400.5, 12.0, 300, "EUR")
    assert costs is not None
    assert costs.unplanned == 6000.5


def test_costs_are_optional_and_so_is_scrap() -> None:
    assert read_plan(PLAN).costs is None
    short = "\n[costs]\nplanned_die_change = 1\nunplanned_die_change = 3\n"
    assert read_plan(PLAN + short).costs == Costs(1.0, 3.0)


def test_what_a_check_costs_is_read_too() -> None:
    costs = read_plan(PLAN + COSTS + "check = 6.5\n").costs
    assert costs is not None
    assert costs.check == 6.5


@pytest.mark.parametrize(
    ("old", "new", "key", "reason"),
    [
        ('"EUR"', '"EUR"\ncheck = 0', "costs.check", "must be above 0"),
        (
            "scrap_per_piece = 12\nspoilt_pieces = 300\n",
            "check = 6\n",
            "costs.scrap_per_piece",
            "weighed against",
        ),
        ("currency", "curency", "costs.curency", "no key 'curency'"),
        ("1700", "-1700", "costs.planned_die_change", "must be above 0"),
        ("1700", "0", "costs.planned_die_change", "must be above 0"),
        ("2400.50", "nan", "costs.unplanned_die_change", "no number"),
        ("scrap_per_piece = 12", "scrap_per_piece = -1", "costs.scrap_per_piece", "must be above 0"),
        ("scrap_per_piece = 12\n", "", "costs.scrap_per_piece", "belong together"),
        ("spoilt_pieces = 300\n", "", "costs.spoilt_pieces", "belong together"),
        ("spoilt_pieces = 300", "spoilt_pieces = 2.5", "costs.spoilt_pieces", "a count is needed"),
        ("planned_die_change = 1700\n", "", "costs.planned_die_change", "the costs want planned_die_change"),
        ('"EUR"', "7", "costs.currency", "a text is needed"),
    ],
)
def test_wrong_costs_are_refused(old: str, new: str, key: str, reason: str) -> None:
    (refusal,) = refusals_of(PLAN + COSTS.replace(old, new, 1))
    assert refusal.column == key
    assert reason in refusal.reason


def test_costs_are_a_table() -> None:
    (refusal,) = [each for each in refusals_of("costs = 3\n" + PLAN) if each.column == "costs"]
    assert "is a table" in refusal.reason


def test_breaks_are_times_of_day() -> None:
    shifts = 'zone = "Europe/Berlin"\n'
    assert shifts in PLAN
    plan = read_plan(PLAN.replace(shifts, shifts + 'breaks = ["17:30", "09:00"]\n'))
    assert plan.breaks == ("09:00", "17:30")
    assert read_plan(PLAN).breaks == ()
    (refusal,) = refusals_of(PLAN.replace(shifts, shifts + 'breaks = ["9 o\'clock"]\n'))
    assert "a break begins at a time of day" in refusal.reason
