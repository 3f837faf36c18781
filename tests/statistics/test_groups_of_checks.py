"""Variance components and comparisons whose pieces are not independent."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_groups import DYESTUFF, PLANTS, RAIL
from scipy.stats import t as t_law
from statsmodels.formula.api import mixedlm

from spc.errors import Refused
from spc.statistics.compare_groups import compare_groups
from spc.statistics.comparison_words import comparison_in_words
from spc.statistics.nested_reml import nested_reml
from spc.statistics.pairwise_differences import tukey
from spc.statistics.variance_components import variance_components


def checks(rng, count, mean, between=0.0, pieces=5):
    """Checks of pieces with a spread between them."""
    return [list(mean + between * rng.normal() + rng.normal(size=pieces)) for _ in range(count)]


@pytest.mark.parametrize("method", ["anova", "reml"])
def test_dyestuff(method):
    # lme4 prints batch sd 42.00, residual 49.51, mean 1527.5; MS 11271.5 (5), 2451.25 (24), F 4.598266 (computed)
    found = variance_components(DYESTUFF, method)
    between, within, _ = found.anova.lines
    assert (between.ms, within.ms, found.anova.f) == pytest.approx((11271.5, 2451.25, 4.598266), abs=5.1e-7)
    assert (found.between, found.within) == pytest.approx((42.000595, 49.510100), abs=5.1e-7)
    assert (found.total, found.intraclass) == pytest.approx((64.925342, 0.418487), abs=5.1e-7)
    assert found.mean == pytest.approx(1527.5)


@pytest.mark.parametrize("method", ["anova", "reml"])
def test_rail(method):
    # Pinheiro & Bates: rail sd 24.805, residual 4.0208, mean 66.5; MS 1862.1, 16.166667, F 115.181443 (computed)
    found = variance_components(RAIL, method)
    between, within, _ = found.anova.lines
    assert (between.ms, within.ms, found.anova.f) == pytest.approx(
        (1862.1, 16.166667, 115.181443), abs=5.1e-7
    )
    assert (found.between, found.within) == pytest.approx((24.805465, 4.020779), abs=5.1e-7)
    assert (found.total, found.intraclass) == pytest.approx((25.129222, 0.974399), abs=5.1e-7)
    assert found.mean == pytest.approx(66.5)


def test_plain_likelihood():
    # ML: batch sd 37.260345, rail sd 22.624348 (computed)
    assert variance_components(DYESTUFF, "ml").between == pytest.approx(37.260345, abs=5.1e-7)
    assert variance_components(RAIL, "ml").between == pytest.approx(22.624348, abs=5.1e-7)


def test_unbalanced_agrees_with_a_general_mixed_model():
    rng = np.random.default_rng(1971)
    groups = [list(10 + 2 * rng.normal() + rng.normal(size=size)) for size in (3, 5, 2, 6, 4, 5, 3, 7)]
    data = pd.DataFrame(
        [(value, number) for number, group in enumerate(groups) for value in group], columns=["y", "g"]
    )
    other = mixedlm("y ~ 1", data, groups="g").fit(reml=True)
    found = variance_components(groups, "reml")
    assert found.between**2 == pytest.approx(float(other.cov_re.iloc[0, 0]), rel=1e-4)
    assert found.within**2 == pytest.approx(float(other.scale), rel=1e-4)
    assert found.mean == pytest.approx(float(other.fe_params["Intercept"]), rel=1e-6)


def test_intervals_of_components_cover():
    # 300 sets of 8 unequal batches, sigma between 2, within 1: each 95 % interval holds its truth, se 1.3 %
    rng = np.random.default_rng(1978)
    held = [0, 0]
    for _ in range(300):
        groups = [list(2 * rng.normal() + rng.normal(size=size)) for size in (3, 5, 2, 6, 4, 5, 3, 7)]
        found = variance_components(groups)
        held[0] += found.between_low <= 2.0 <= found.between_high
        held[1] += found.within_low <= 1.0 <= found.within_high
    assert held[0] / 300 == pytest.approx(0.95, abs=0.04)
    assert held[1] / 300 == pytest.approx(0.95, abs=0.04)


def test_no_spread_between_is_zero_not_negative():
    found = variance_components([[1.0, 9.0], [3.0, 8.0], [6.0, 7.5]])
    assert (found.between, found.intraclass, found.between_low) == (0.0, 0.0, 0.0)
    assert found.between_high > 0.0


def test_balanced_comparison_is_the_t_test_of_check_means():
    rng = np.random.default_rng(8)
    day, night = checks(rng, 6, 0.0, 1.5), checks(rng, 6, 2.0, 1.5)
    found = compare_groups({"day": day, "night": night})
    means = [np.mean(group, axis=1) for group in (day, night)]
    error = np.sqrt(sum(np.var(each, ddof=1) / 6 for each in means))
    pair, reach = found.pairs[0], t_law.isf(0.025, 10) * error
    assert pair.difference == pytest.approx(means[1].mean() - means[0].mean())
    assert (pair.low, pair.high) == pytest.approx(
        (pair.difference - reach, pair.difference + reach), rel=1e-6
    )
    assert found.f == pytest.approx((pair.difference / error) ** 2, rel=1e-8)
    assert found.p == pytest.approx(pair.p, rel=1e-4)


def test_uneven_comparison_agrees_with_a_general_mixed_model():
    rng = np.random.default_rng(9)
    groups = {
        name: [each[: 2 + number % 4] for number, each in enumerate(checks(rng, 9, mean, 1.0))]
        for name, mean in (("A", 0.0), ("B", 1.0), ("C", 3.0))
    }
    rows = [
        (value, name, f"{name}{number}")
        for name, group in groups.items()
        for number, check in enumerate(group)
        for value in check
    ]
    data = pd.DataFrame(rows, columns=["y", "group", "check"])
    other = mixedlm("y ~ 0 + group", data, groups="check").fit(reml=True)
    fit = compare_groups(groups).fit
    assert fit.means == pytest.approx(tuple(other.fe_params), rel=1e-4, abs=1e-4)
    assert np.sqrt(fit.mean_variances) == pytest.approx(
        np.asarray(other.bse_fe), rel=0.01
    )  # by its own Hessian
    # generalised least squares written out with full matrices
    same = np.equal.outer([row[2] for row in rows], [row[2] for row in rows])
    covariance = fit.sigma_within**2 * np.eye(len(rows)) + fit.sigma_between**2 * same
    design = np.array([[row[1] == name for name in "ABC"] for row in rows], dtype=float)
    exact = np.linalg.inv(design.T @ np.linalg.solve(covariance, design))
    assert fit.mean_variances == pytest.approx(np.diag(exact), rel=1e-9)
    assert fit.sigma_between == pytest.approx(float(other.cov_re.iloc[0, 0]) ** 0.5, rel=1e-3)
    assert fit.df == 24


def test_single_pieces_are_the_ordinary_comparison():
    found = compare_groups(
        {name: [[value] for value in group] for name, group in zip("abc", PLANTS, strict=True)}
    )
    for pair, plain in zip(found.pairs, tukey(PLANTS), strict=True):
        assert (pair.low, pair.high, pair.p) == pytest.approx((plain.low, plain.high, plain.p), rel=1e-9)


def test_pieces_of_one_check_do_not_count_as_witnesses():
    # two equal groups of 8 checks that wander by 2 sigma: taking 40 pieces as independent cries wolf; checks do not
    rng = np.random.default_rng(40)
    shown, cried = 0, 0
    for _ in range(200):
        day, night = checks(rng, 8, 0.0, 2.0), checks(rng, 8, 0.0, 2.0)
        shown += compare_groups({"day": day, "night": night}).pairs[0].shown
        cried += tukey([np.ravel(day), np.ravel(night)])[0].shown
    assert shown / 200 < 0.10
    assert cried / 200 > 0.25


def test_the_sentence_of_two_shifts():
    day = [[0.0, 0.4], [0.6, 1.0], [-0.8, -1.2], [0.2, -0.2]]
    night = [[1.7 + value for value in check] for check in day]
    plain = compare_groups({"day": day, "night": night})
    assert comparison_in_words(plain) == (
        "Night is 1.7 µm higher than day, 95 % interval 0.4 to 3.0 (4 and 4 checks)."
    )
    swapped = compare_groups({"night": night, "day": day})
    assert comparison_in_words(swapped) == comparison_in_words(plain)
    master = {"day": [0.0, 0.1, -0.1, 0.0], "night": [1.6, 1.7, 1.5, 1.6]}
    assert comparison_in_words(compare_groups({"day": day, "night": night}, same_master=master)).endswith(
        "; the same master measured by both differs by 1.6, so look at the gauge first."
    )
    alike = {"day": [0.0, 0.1, -0.1], "night": [0.0, 0.2, -0.1]}
    assert comparison_in_words(compare_groups({"day": day, "night": night}, same_master=alike)).endswith(
        "differs by 0.0, so the gauge does not explain it."
    )


def test_no_league_table_of_noise():
    rng = np.random.default_rng(77)
    same = {name: checks(rng, 6, 0.0, 0.5) for name in "ABCDE"}
    said = comparison_in_words(compare_groups(same))
    assert said.startswith("No difference between the 5 is shown by 30 checks; one of up to ")
    far = dict(same, E=checks(rng, 6, 6.0, 0.5))
    said = comparison_in_words(compare_groups(far, unit="µm"))
    assert said.count("higher than") == 3
    assert said.endswith("1 more of the 10 pairs differ, by less.")


def test_spreads_of_their_own():
    rng = np.random.default_rng(5)
    groups = {"old": checks(rng, 9, 0.0, 0.1, 3), "new": checks(rng, 9, 2.0, 4.0, 3)}
    found = compare_groups(groups, spread="unequal")
    assert found.pairs[0].method == "Games-Howell"
    assert found.spreads is not None
    assert found.spreads.p < 0.05
    assert compare_groups({"a": [[1.0], [2.0]], "b": [[1.0], [3.0]]}).spreads is None


@given(st.floats(-20, 20), st.floats(0.05, 20), st.randoms(use_true_random=False))
@settings(max_examples=8, deadline=None)
def test_shift_scale_and_order(shift, scale, dice):
    moved = [[shift + scale * value for value in batch] for batch in DYESTUFF]
    dice.shuffle(moved)
    found, plain = variance_components(moved), variance_components(DYESTUFF)
    assert found.between == pytest.approx(scale * plain.between, rel=1e-7)
    assert found.within_high == pytest.approx(scale * plain.within_high, rel=1e-7)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: compare_groups({"day": [[1.0], [2.0]]}), "too few groups"),
        (lambda: compare_groups({"day": [[1.0, 2.0]], "night": [[1.0], [2.0]]}), "two checks or more"),
        (lambda: compare_groups({"day": [[1.0], []], "night": [[1.0], [2.0]]}), "empty"),
        (lambda: compare_groups({"day": [[1.0], [1.0]], "night": [[2.0], [2.0]]}), "no spread"),
        (lambda: compare_groups({"day": [[1.0, 1.0], [2.0]], "night": [[2.0], [1.0]]}), "read the same"),
        (
            lambda: compare_groups(
                {"day": [[1.0], [1.5]], "night": [[2.0], [2.5]]}, same_master={"late": [1.0, 2.0]}
            ),
            "not compared",
        ),
        (lambda: nested_reml([[[1.0, float("nan")], [2.0]]]), "not finite"),
        (lambda: variance_components(RAIL, "guess"), "no such method"),
    ],
)
def test_what_cannot_be_split_is_refused(wrong, says):
    with pytest.raises(Refused, match=says):
        wrong()
