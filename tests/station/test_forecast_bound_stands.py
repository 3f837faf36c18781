"""The bound of the forecast: what is read of a die's first size, and that an onlooker changes nothing."""

from dataclasses import replace

import numpy as np
import pytest

from tests.benchmarks import forecast_bound
from tests.benchmarks.fleet import NATURES, told
from tests.benchmarks.lives import forecasts_of
from tests.benchmarks.true_start import Starts


def test_the_first_size_is_read_as_generalised_least_squares_has_it() -> None:
    # Aitken (1935), from memory, with the covariance of all checks written out
    bars, seen, noise = (
        [1.0, 1.0, 1.0, 7.0, 9.0, 9.0],
        [3.1, 2.6, 4.0, -1.2, 0.9, 1.4],
        [0.8, 0.8, 1.3, 1.0, 1.0, 0.5],
    )
    starts = Starts(4.0, -2.0, 9.0)
    for each in zip(bars, seen, noise, strict=True):
        starts.see(*each)
    cov = np.diag(noise) + 4.0 * np.equal.outer(bars, bars)
    sure = np.linalg.inv(cov).sum() + 1.0 / 9.0
    mean = (np.linalg.inv(cov).sum(axis=0) @ seen - 2.0 / 9.0) / sure
    assert starts.read() == pytest.approx((mean, sure**-0.5))


def test_who_is_told_more_forecasts_the_same_sets_and_leaves_the_shop_alone() -> None:
    rows = forecast_bound.rows_by("gamma", 3, machines=1, sets=3)
    alone = forecasts_of(told(NATURES["gamma"](3), machines=1, sets=3))
    assert [(each.left, each.quantiles) for each in rows["station"]] == [(e.left, e.quantiles) for e in alone]
    assert {len(each) for each in rows.values()} == {len(rows["station"])}
    wrong = {name: sum(abs(each.quantiles[2] - each.left) for each in said) for name, said in rows.items()}
    assert wrong["law told"] < wrong["station"]
    later = {
        name: [replace(e, ended_before=1, by_usual_life=1000.0) for e in said] for name, said in rows.items()
    }
    assert len(forecast_bound.table(later)) == 10
