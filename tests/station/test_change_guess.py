"""A young set's forecast, still a guess, must not have every set changed at once."""

import pytest
from shaft import COSTS, PLAN

from spc.intake import read_plan
from spc.shop import PiecesLeft
from spc.station.change_advice import change_advice, set_ahead
from spc.station.state import StreamState
from spc.wear import FinishedSet


@pytest.mark.parametrize(
    ("early", "likely", "late", "is_laid_out"),
    [
        (0, 1_752, 17_964, False),  # the first hour of a set of a part with one chipped life behind it
        (80, 2_500, 20_000, False),
        (0, 93, 2_371, True),  # at the very end the early number is 0 too
        (900, 6_000, 30_000, True),
        (12_000, 20_000, 40_000, True),
    ],
)
def test_costs_are_weighed_by_forecasts_that_tell_something(
    early: int, likely: int, late: int, is_laid_out: bool
) -> None:
    left = PiecesLeft(early, (early + likely) // 2, likely, (likely + late) // 2, late)
    assert (set_ahead(StreamState("T-9"), 5_000, left) is not None) == is_laid_out


@pytest.mark.parametrize("first_life", [1_500, 15_000])
def test_one_chip_does_not_have_every_set_after_it_changed_at_once(first_life: int) -> None:
    """The next set is at the same risk: where nothing but chance ends sets, changing early only adds cost.

    Renewal reward (Barlow & Hunter 1960, from memory): with a constant rate of ends no planned age is best.
    """
    chipped = FinishedSet("D-1", first_life, ended=True, reason="chipped")
    state = StreamState("T-9", read_plan(PLAN + COSTS), finished=(chipped,))
    left = PiecesLeft(*(round(first_life * share) for share in (0.08, 0.5, 1.2, 2.5, 6.0)))
    advice = change_advice(state, first_life // 40, left)
    assert advice is not None
    assert advice.pieces is None or advice.pieces > 0.05 * first_life


@pytest.mark.parametrize("age", [5, 150])
def test_a_young_set_whose_forecast_is_wide_is_not_changed_at_once(age: int) -> None:
    """A new set would promise no more: where each is changed for what the next one shares, none is worn ever again.

    Lives of 5,000 to 60,000 pieces, as one invented part has them: one set was taken off early, one came to its end.
    """
    lives = (
        FinishedSet("D-1", 7_028, ended=False, reason="planned"),
        FinishedSet("D-2", 22_947, True, "worn"),
    )
    state = StreamState("T-9", read_plan(PLAN + COSTS), finished=lives)
    advice = change_advice(state, age, PiecesLeft(296, 1_200, 5_036, 10_000, 24_308))
    assert advice is not None
    assert advice.pieces is None or advice.pieces > 1_000
