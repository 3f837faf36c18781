"""A young set's forecast, still a guess, must not have every set changed at once."""

import pytest

from spc.shop import PiecesLeft
from spc.station.change_advice import set_ahead
from spc.station.state import StreamState


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
