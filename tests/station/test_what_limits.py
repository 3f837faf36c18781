"""What counts for the life of a die set, and how far one advice may go: contract section 3."""

from datetime import timedelta

import pytest
from shaft import PLAN, START, check, event, open_shop

from spc.shop import Verdict
from spc.station import open_station

RUNOUT = """
[[characteristic]]
name = "runout"
kind = "runout"
unit = "mm"
nominal = 0.0
upper = 0.040
subgroup_size = 3
"""


def growing_runout(extra: str) -> Verdict:
    """A size that hardly grows beside a run-out that grows 1 µm an hour."""
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(PLAN + RUNOUT + extra)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 21):
        at_hour = 0.010 + 0.001 * hour
        runout = [f"{at_hour + each + 0.0001 * (hour % 3):.4f}" for each in (0.0, 0.001, -0.001)]
        verdict = live.check_in(check(hour, 31.250 + 0.0001 * hour, 300 * hour, values={"runout": runout}))
    return verdict


def test_only_what_wears_with_the_die_counts_for_its_life() -> None:
    """Section 3: "counts for die life; default true for set_by = "penetration", else false"."""
    plain, counted = growing_runout(""), growing_runout("wears_with_die = true\n")
    assert plain.die_life is not None
    assert plain.die_life.limited_by == "over_pin"
    assert counted.die_life is not None
    assert (counted.die_life.limited_by, counted.die_life.limit) == ("runout", "upper")
    left = counted.die_life.pieces_left  # 10 µm at 1 µm in 300 pieces
    assert left.p05 is not None
    assert left.p95 is not None
    assert left.p05 < 3_000 < left.p95


@pytest.mark.parametrize("slides", ["one", "two"])
@pytest.mark.parametrize("off_mm", [0.0125, -0.0125])
def test_no_advice_goes_farther_than_the_largest_move(slides: str, off_mm: float) -> None:
    """Section 3: `largest_move_mm`, in displayed travel: 12.5 µm off would want more than 5 µm of it at once."""
    machine = f'largest_move_mm = 0.004\nslides = "{slides}"'
    live = open_shop("largest_move_mm = 0.010", machine)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    said = [live.check_in(check(hour, 31.250 + off_mm, 300 * hour)) for hour in range(1, 10)]
    moves = [float(each.correction.penetration_mm) for each in said if each.correction is not None]
    assert moves
    assert {abs(each) for each in moves} == {0.004}
