"""Capability by kind and model: published data, made processes, and what a signer must be told."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_series import VISCOSITY
from published_tables import subgroups

from spc.errors import Refused
from spc.statistics.capability import capability
from spc.statistics.honest_capability import honest_capability
from spc.statistics.honest_percentiles import honest_percentiles
from spc.statistics.model_capability import model_capability
from spc.statistics.order_seen import order_seen

RINGS = subgroups("piston_rings")


def test_piston_rings_are_normal_stable_and_judged_on_cpk():
    # Montgomery, SQC, Table 6.3, tolerance 74.000 +/- 0.05
    found = model_capability(RINGS, 73.95, 74.05, minimum=1.33)
    assert (found.model.name, found.over_time.model, found.words) == ("normal", "A1", "capability")
    assert found.plain == capability(RINGS, 73.95, 74.05)
    assert found.without_trend is None
    assert found.honest == honest_capability(RINGS, 73.95, 74.05)
    # quantiles taken literally lie at 2.999977 and not at 3 sigma
    assert found.percentiles.pp.estimate == pytest.approx(found.plain.pp.estimate, rel=1e-5)
    assert found.percentiles.fallout_ppm.estimate == pytest.approx(found.plain.fallout_ppm, rel=1e-6)
    assert found.total_normality.p == pytest.approx(0.892229, abs=5.1e-7)  # computed with a general library
    assert found.requirement.index == (found.honest.cpk if found.honest_first else found.plain.cpk)
    assert found.requirement.answer == "shown"


def test_single_pieces_have_no_model_over_time():
    found = model_capability([[value] for value in VISCOSITY], 32.0, 35.0)
    assert found.over_time is None
    assert found.within_normality is None
    assert found.total_normality.statistic == pytest.approx(
        0.247412, abs=5.1e-7
    )  # computed with a general library
    assert any("15 pieces know sigma" in each for each in found.warnings)


def test_wear_is_performance_with_the_honest_interval_first():
    random = np.random.default_rng(4)
    wear = random.normal(10.0, 0.02, (30, 5)) + 0.004 * np.arange(30)[:, None]
    found = model_capability(wear.tolist(), 9.8, 10.3, minimum=1.0)
    assert (found.over_time.model, found.words, found.honest_first) == ("C3", "performance", True)
    assert found.requirement.index == found.honest.ppk
    assert "Ppk" in found.requirement.says
    assert found.warnings[0].startswith("C3")
    assert found.honest.ppk.low < found.plain.ppk.low
    assert found.without_trend.trend.slope == pytest.approx(0.004, abs=0.0005)
    assert found.without_trend.capability.pp.estimate > 1.5 * found.plain.pp.estimate


def test_magnitudes_leave_out_their_natural_limit():
    random = np.random.default_rng(6)
    bent = np.abs(random.normal(0.01, 0.01, (25, 4)))
    found = model_capability(bent.tolist(), 0.0, 0.06, kind="straightness", minimum=1.0)
    assert found.model.name == "folded_normal"
    assert (found.plain, found.percentiles.pp, found.percentiles.ppk_lower) == (None, None, None)
    assert found.honest.ppk.estimate == pytest.approx(found.percentiles.ppk.estimate, rel=1e-9)
    assert "by convention for straightness" in found.why


def test_honest_percentiles_widen_when_checks_wander():
    random = np.random.default_rng(8)
    sizes = random.rayleigh(1.0, (30, 5))
    wandering = sizes * random.uniform(0.4, 1.6, (30, 1))

    def width(checks, upper=8.0):
        found = honest_percentiles(checks.tolist(), "rayleigh", upper=upper, seed=1).ppk
        return (found.high - found.low) / found.estimate

    assert width(wandering) > 1.4 * width(sizes)
    textbook = model_capability(sizes.tolist(), upper=8.0, kind="runout").percentiles.ppk
    assert width(sizes) == pytest.approx((textbook.high - textbook.low) / textbook.estimate, rel=0.35)


def test_a_model_asked_for_is_kept_and_doubted():
    random = np.random.default_rng(2)
    skewed = random.exponential(1.0, (30, 5))
    found = model_capability(skewed.tolist(), None, 20.0, model="rayleigh")
    assert found.model.name == "rayleigh"
    assert any("doubtful" in each for each in found.warnings)
    free = model_capability(skewed.tolist(), None, 20.0, model="empirical")
    assert free.fit is None
    assert free.percentiles.ppk.low == 0.0


def test_few_checks_are_not_called_capability():
    found = model_capability([[9.9, 10.0], [10.1, 10.2], [9.8, 10.0]], 9.0, 11.0, minimum=1.33)
    assert (found.over_time, found.words) == (None, "performance")
    assert found.requirement.answer == "too few pieces to tell"


def test_order_is_seldom_seen_where_there_is_none():
    rows = np.random.default_rng(3).standard_normal((400, 25))
    assert np.mean([order_seen(row).present for row in rows]) == pytest.approx(0.11, abs=0.06)
    assert order_seen([1.0, 3.0, 2.0, 2.5, 1.5, 2.2]).says == ""


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 20), st.sampled_from([0.25, 4.0]), st.integers(-100, 100))
def test_indices_have_no_unit(seed, scale, shift):
    checks = np.random.default_rng(seed).normal(0.0, 1.0, (10, 3))
    plain = model_capability(checks.tolist(), -4.0, 5.0)
    moved = model_capability((scale * checks + shift).tolist(), shift - 4.0 * scale, shift + 5.0 * scale)
    assert moved.plain.ppk.estimate == pytest.approx(plain.plain.ppk.estimate, rel=1e-9)
    assert moved.percentiles.ppk.low == pytest.approx(plain.percentiles.ppk.low, rel=1e-7)
    assert moved.words == plain.words


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda: model_capability(RINGS), "limit"),
        (lambda: model_capability(RINGS, 0.0, None, kind="runout"), "limit"),
        (lambda: model_capability(RINGS, 73.9, 74.1, model="cauchy"), "no such distribution"),
        (lambda: model_capability([[0.0, 1.0], [2.0, 1.5]], None, 3.0, model="weibull"), "above 0"),
        (lambda: model_capability(RINGS, 73.9, 74.1, kind="visual"), "look"),
        (lambda: model_capability([[1.0, 1.0], [1.0, 1.0]], 0.0, 2.0), "all equal"),
        (lambda: model_capability(RINGS, 73.9, 74.1, minimum=-1.0), "not above 0"),
        (lambda: model_capability([[1e308, 1.0], [2.0, 3.0]], 0.0, 9.0), "missing or not finite"),
        (lambda: model_capability([[0.0, 0.0], [0.0, 1e-300]], None, 9.0), "all equal"),
        (lambda: model_capability(RINGS, 73.9, 74.1, 80.0), "target"),
        (lambda: honest_percentiles([[1.0, 2.0]] * 3, "rayleigh", upper=4.0, seed=1), "too few subgroups"),
    ],
)
def test_bad_input_is_refused(act, says):
    with pytest.raises(Refused, match=says):
        act()
