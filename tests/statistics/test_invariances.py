"""Every chart and index: a shift moves it, a scale stretches it, order inside a check is nothing, sizes may differ.

Each row answers with places (they move and stretch), spreads (they stretch) and pure numbers (they stay).
"""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.errors import Refused
from spc.statistics import (
    acceptance_limit,
    capability,
    cusum_limits,
    detrended_capability,
    deviation_chart,
    ewma_limits,
    honest_capability,
    individuals_limits,
    machine_performance,
    median_r_limits,
    modified_limits,
    sloping_limits,
    standardised_chart,
    tolerance_interval,
    xbar_r_limits,
    xbar_s_limits,
)

INDICES = ("cp", "cpk", "pp", "ppk", "cpm")


def flat(*levels):
    return [value for level in levels for value in np.ravel(level)]


def pieces(checks):
    return [value for check in checks for value in check]


def pair(limits):
    places = flat(limits.centre, limits.lower, limits.upper, limits.points)
    return (
        places,
        flat(limits.spread_centre, limits.spread_upper, limits.sigma_within, limits.spread_points),
        [],
    )


def ewma(checks, at):
    chart = ewma_limits(checks, target=at(20.0))
    return flat(chart.centre, chart.lower, chart.upper, chart.points), [chart.sigma_within], []


def cusum(checks, at):
    chart = cusum_limits(checks, target=at(20.0))
    return list(chart.points), flat(chart.high, chart.low, chart.upper), flat(chart.high_run, chart.low_run)


def parts(checks):
    return ["A", "B"] * (len(checks) // 2) + ["A"] * (len(checks) % 2)


def nominal(at):
    return {"A": at(15.0), "B": at(25.0)}


def deviations(checks, at):
    chart = deviation_chart(parts(checks), checks, nominal(at))
    return [], flat(chart.centre, chart.lower, chart.upper, chart.points, chart.spread_centre), []


def standardised(checks, at):
    chart = standardised_chart(parts(checks), checks, nominal(at))
    return [], [], flat(chart.points, chart.upper, chart.spread_points, chart.spread_upper)


def sloping(checks, _):
    means, ranges = [np.mean(check) for check in checks], [np.ptp(check) for check in checks]
    chart = sloping_limits(range(len(checks)), means, ranges, len(checks[0]))
    return [chart.line.intercept], [chart.line.slope, chart.half_width, chart.sigma], [chart.line.t]


def modified(checks, at):
    limits = modified_limits(at(-900.0), at(900.0), xbar_r_limits(checks).sigma_within, 5)
    return [limits.lower, limits.upper], [], []


def acceptance(checks, at):
    sigma = xbar_r_limits(checks).sigma_within
    found = acceptance_limit(at(20.0), at(40.0), sigma)
    return [found.limit, found.from_acceptable, found.from_rejectable], [], [found.n, found.alpha_kept]


def indices(of):
    def answer(checks, at):
        found = of(checks, at(-300.0), at(320.0), at(15.0))
        estimates = [getattr(found, name) for name in INDICES if getattr(found, name, None)]
        assert len(estimates) >= 4
        return [found.mean], [], flat([(each.estimate, each.low, each.high) for each in estimates])

    return answer


def honest(checks, at):
    found = honest_capability(checks, at(-300.0), at(320.0), at(15.0))
    numbers = [found.effective_n, found.freedom]
    return (
        [],
        [found.standard_error],
        numbers + flat([(each.estimate, each.low) for each in (found.pp, found.ppk)]),
    )


def detrended(checks, at):
    found = detrended_capability(checks, at(-300.0), at(320.0))
    return (
        [found.trend.intercept],
        [found.trend.slope],
        [found.capability.pp.estimate, found.capability.ppk.low],
    )


def proving_run(checks, at):
    found = machine_performance(pieces(checks), at(-300.0), at(320.0))
    return [], [found.sd], flat([(each.estimate, each.low, each.high) for each in (found.pm, found.pmk)])


def tolerance(checks, _):
    found = tolerance_interval(pieces(checks))
    return [found.low, found.high], [], []


ANSWERS = {
    "xbar_r": lambda checks, _: pair(xbar_r_limits(checks)),
    "xbar_s": lambda checks, _: pair(xbar_s_limits(checks)),
    "median_r": lambda checks, _: pair(median_r_limits(checks)),
    "individuals": lambda checks, _: pair(individuals_limits([check[0] for check in checks])),
    "individuals by the median": lambda checks, _: pair(
        individuals_limits([check[0] for check in checks], spread="median")
    ),
    "ewma": ewma,
    "cusum": cusum,
    "deviation": deviations,
    "standardised": standardised,
    "sloping": sloping,
    "modified": modified,
    "acceptance": acceptance,
    "capability": indices(capability),
    "capability, pooled s": indices(
        lambda checks, *limits: capability(checks, *limits, sigma_from="pooled_s")
    ),
    "honest": honest,
    "detrended": detrended,
    "proving run": proving_run,
    "tolerance interval": tolerance,
}
ONE_SIZE = {"cusum", "standardised", "sloping"}
"""Methods that want one size: two refuse others, the sloping chart is told the size."""
ORDERLESS = {
    "xbar_r", "xbar_s", "median_r", "modified", "acceptance", "capability", "capability, pooled s", "honest",
    "proving run", "tolerance interval",
}  # fmt: skip
"""Answers, points aside, that do not know the order of the checks."""
FIRST_PIECE = {"individuals", "individuals by the median"}


def checks_of(sizes, seed):
    dice = random.Random(seed)
    return [[float(dice.randint(-60, 60)) + 20.0 * place for place in range(size)] for size in sizes]


def same(x):
    return x


def agree(found, wanted):
    assert found == pytest.approx(wanted, rel=1e-7, abs=1e-7)


@pytest.mark.parametrize("name", ANSWERS)
@settings(max_examples=8, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from([0.25, 4.0]), st.integers(-400, 400), st.booleans())
def test_shift_and_scale(name, seed, scale, shift, unequal):
    sizes = (4, 4, 4, 4, 4, 4) if name in ONE_SIZE or not unequal else (4, 2, 3, 5, 4, 2)
    checks = checks_of(sizes, seed)
    places, spreads, numbers = ANSWERS[name](checks, same)

    def at(x):
        return scale * x + shift

    moved = [[at(value) for value in check] for check in checks]
    new_places, new_spreads, new_numbers = ANSWERS[name](moved, at)
    agree(new_places, [at(place) for place in places])
    agree(new_spreads, [scale * spread for spread in spreads])
    agree(new_numbers, numbers)


@pytest.mark.parametrize("name", sorted(set(ANSWERS) - FIRST_PIECE))
@settings(max_examples=5, deadline=None)
@given(st.integers(0, 10**6), st.booleans())
def test_order_inside_a_check_is_nothing(name, seed, unequal):
    sizes = (4, 4, 4, 4, 4, 4) if name in ONE_SIZE or not unequal else (4, 2, 3, 5, 4, 2)
    checks = checks_of(sizes, seed)
    shuffled = [random.Random(seed + 1).sample(check, len(check)) for check in checks]
    for one, two in zip(ANSWERS[name](checks, same), ANSWERS[name](shuffled, same), strict=True):
        agree(two, one)


@pytest.mark.parametrize("name", sorted(ORDERLESS))
@settings(max_examples=5, deadline=None)
@given(st.permutations([0, 1, 2, 3, 4, 5]))
def test_order_of_the_checks_is_nothing_where_it_should_be(name, order):
    checks = checks_of((4, 2, 3, 5, 4, 2), 7)
    again = [checks[place] for place in order]
    for one, two in zip(ANSWERS[name](checks, same), ANSWERS[name](again, same), strict=True):
        agree(sorted(two), sorted(one))


def test_one_size_only_is_said():
    checks = checks_of((4, 2, 3, 5, 4, 2), 7)
    for name in ("cusum", "standardised"):
        with pytest.raises(Refused):
            ANSWERS[name](checks, same)
