"""The benchmarks of the wear model on a tiny fleet, so that what scores them cannot rot; no goals are held here."""

import numpy as np
import pytest

from tests.benchmarks import detection, detection_bound, forecast, learning
from tests.benchmarks.fleet import NATURES, live, told
from tests.benchmarks.lives import STAGES, Told, forecasts_of, pinball, score
from tests.benchmarks.rings import changes_found, mean_checks, quiet_alarms
from tests.benchmarks.truth import Change


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
    assert detection.changed_line("step", found).startswith(f"| step 8 | {len(found)} | 0 | 0 | 1.0")
    assert len(detection.changed_lines("step", found)) == 1 + len({each.beside for each in found})


def test_changes_missed_count_25_and_sets_that_came_off_as_long_as_they_were_on() -> None:
    assert mean_checks([(1, 25), (4, 9), (None, 25)]) == pytest.approx((1 + 4 + 25) / 3)
    # by hand: all stay to check 2, where one of two is found, the other comes off: half stay unfound for good
    assert mean_checks([(2, 20), (None, 2)]) == pytest.approx(2 + 23 / 2)


@pytest.mark.parametrize("is_told", [True, False])
def test_whoever_is_told_the_shop_finds_a_step_at_once_or_soon(is_told: bool) -> None:
    found = detection_bound.found_by("gamma", "step", [21], [22], is_told=is_told)
    assert found
    assert mean_checks(found) < 4.0


def test_the_spread_is_found_after_as_many_checks_as_in_rows_played_through() -> None:
    dice, pieces, limit = np.random.default_rng(5), 4, 4.0
    between, grown = detection_bound._run_length(pieces, limit)
    assert between == pytest.approx(detection_bound._run_length(pieces, limit, 800)[0], rel=0.01)
    total, lengths = np.zeros(20_000), np.zeros(20_000)
    for check in range(400):  # quiet for fifty checks, rows that ring begin anew; then twice the spread
        squares = dice.chisquare(pieces - 1, 20_000) * (1.0 if check < 50 else 4.0)
        total = np.maximum(total + squares * 3.0 / 8.0 - (pieces - 1) * np.log(2.0), 0.0)
        rung = total > limit
        if check < 50:
            total[rung] = 0.0
        else:
            lengths[rung & (lengths == 0)] = check - 49
    assert grown == pytest.approx(lengths.mean(), abs=4.0 * float(lengths.std()) / 20_000**0.5)


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
