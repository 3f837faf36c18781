"""The benchmarks of the wear model on a tiny fleet, so that what scores them cannot rot; no goals are held here."""

import numpy as np
import pytest

from tests.benchmarks import detection, forecast, learning
from tests.benchmarks.fleet import NATURES, live, told
from tests.benchmarks.floor import Change
from tests.benchmarks.lives import STAGES, Told, forecasts_of, pinball, score
from tests.benchmarks.rings import changes_found, quiet_alarms


@pytest.mark.parametrize("nature", sorted(NATURES))
def test_a_tiny_fleet_is_scored_from_end_to_end(nature: str) -> None:
    story = told(NATURES[nature](3), machines=2, sets=2)
    rows = forecasts_of(story)
    assert {each.stage for each in rows} == set(STAGES)
    assert all(each.left > 0 and list(each.quantiles) == sorted(each.quantiles) for each in rows)
    assert len(learning.table(rows)) == 2 + len(learning.COUNTS)
    assert len(forecast.table([*rows, *(_later(each) for each in rows)])) == 2 + len(STAGES)
    quiet = quiet_alarms(story)
    assert 0 < quiet.charted < quiet.checks <= sum(len(each.times) for each in story.book.sets)
    assert 0 <= quiet.chart_alarms <= quiet.charted
    assert sum(quiet.alarms.values()) < quiet.checks


def _later(told: Told) -> Told:
    """The same forecast, made after a set had ended."""
    values = {name: getattr(told, name) for name in Told.__slots__}
    usual = told.by_usual_life if told.ended_before else 1000.0
    return Told(**{**values, "ended_before": 1, "by_usual_life": usual})


def test_a_large_step_is_found_and_counted_from_its_own_check() -> None:
    story = told(NATURES["gamma"](5), machines=2, sets=1, changes=[Change("step", 20, 40.0)])
    found = changes_found(story)
    assert [each.delay for each in found] == [1] * len(found) != []
    assert detection.changed_line("step", found).startswith(f"| step 8 | {len(found)} | 0 | 1.0")


def test_the_same_seed_gives_the_same_shop() -> None:
    one, two = (live(NATURES["regime"](4), 2, 2) for _ in range(2))
    assert (one.checks, one.events, one.sets) == (two.checks, two.events, two.sets)
    assert live(NATURES["regime"](5), 2, 2).checks != one.checks


def test_the_score_of_a_perfect_and_of_a_plain_forecast() -> None:
    rows = [
        Told(0.5, 1, 1, left, (left,) * 5, left + 50.0, left - 100.0, "over_pin") for left in (500.0, 900.0)
    ]
    assert (score(rows).coverage, score(rows).pinball, score(rows).error) == (1.0, 0.0, 0.0)
    plain = [
        Told(0.5, 1, 1, each.left, (each.left + 50.0,) * 5, each.by_usual_life, each.by_line, "")
        for each in rows
    ]
    assert (score(plain).coverage, score(plain).pinball, score(plain).error) == (0.0, 1.0, 1.0)


def test_quantile_loss_is_least_at_the_quantiles() -> None:
    # of an exponential law its five quantiles are -ln(1 - p); moved either way they lose more
    came = -np.log1p(-(np.arange(2000) + 0.5) / 2000)
    best = -np.log1p(-np.array([0.05, 0.25, 0.50, 0.75, 0.95]))
    losses = [pinball(np.tile(best * by, (2000, 1)), came).mean() for by in (0.9, 1.0, 1.1)]
    assert losses[1] < min(losses[0], losses[2])
