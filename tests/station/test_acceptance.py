"""The raw mean against acceptance limits: three piece-spreads inside the tolerance."""

import pytest
from shaft import check, event, open_shop

from spc.station.acceptance import past_acceptance_um

WIDE = (0.0, 0.0042, -0.0042, 0.0021, -0.0021)


@pytest.mark.parametrize(
    ("mean", "sigma_um", "past_um"),
    [
        (31.2630, 2.0, 1.0),  # 18 − 3·2 = 12 µm from the middle of ±18
        (31.2375, 2.0, -0.5),
        (31.2615, 2.0, 0.0),
        (31.2615, 3.0, 2.5),
        (31.2630, 6.0, 0.0),  # nothing is inside: Cp 1 or less
    ],
)
def test_three_spreads_inside_the_tolerance(mean: float, sigma_um: float, past_um: float) -> None:
    """By hand, on 31.250 ± 0.018: process notes, modified limits USL − 3σ of a piece (share outside 1 in 741)."""
    size = open_shop().plans()[0].characteristic("over_pin")
    assert past_acceptance_um(size, mean, sigma_um) == pytest.approx(past_um, abs=1e-6)


def stands(mean: float, checks: int = 14) -> list[str]:
    """A size that stands there, with a slide that cannot move it."""
    live = open_shop("largest_move_mm = 0.010", "largest_move_mm = 0.0005")
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, checks + 1):
        pieces = [f"{mean + each + 0.0001 * (hour % 3):.4f}" for each in WIDE]
        verdict = live.check_in(check(hour, counter=6000 + 300 * hour, pieces=pieces))
    assert verdict.verdict == "run"
    return [each.says for each in verdict.notices]


def test_a_mean_past_it_is_said_and_raises_nothing() -> None:
    (says,) = stands(31.2588)
    assert says.startswith("the mean of over pins is ")
    assert "past its upper acceptance limit" in says
    assert "in 1,000 would be out" in says


def test_inside_nothing_is_said() -> None:
    assert stands(31.2545) == []


def test_where_a_move_is_advised_it_says_enough() -> None:
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    said = [live.check_in(check(hour, 31.2635, 300 * hour)) for hour in range(1, 12)]
    assert any(each.correction is not None for each in said)
    assert not any(each.notices for each in said if each.correction is not None)
