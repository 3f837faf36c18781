"""Laws of chance from their special functions agree with a general library's."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from spc.statistics.chance_laws import (
    beta_above,
    beta_below,
    binomial_above,
    binomial_upto,
    chi_density,
    chi_square_above,
    chi_square_below,
    chi_square_density,
    chi_square_tail,
    f_above,
    f_below,
    f_tail,
    t_above,
    t_tail,
)

FREEDOM = st.sampled_from([1.0, 2.0, 3.0, 5.5, 10.0, 50.3, 124.0, 1000.7])
SHARE = st.floats(1e-5, 0.999)
VALUE = st.floats(0.01, 60.0)


def near(value: float) -> object:
    return pytest.approx(value, rel=1e-9, abs=1e-300)


@given(freedom=FREEDOM, share=SHARE, value=VALUE)
def test_chi_square_and_its_root(freedom: float, share: float, value: float) -> None:
    law, at = stats.chi2(freedom), np.array([value])
    assert chi_square_tail(value, freedom) == near(law.sf(value))
    assert chi_square_below(share, freedom) == near(law.ppf(share))
    assert chi_square_above(share, freedom) == near(law.isf(share))
    assert chi_square_density(at, freedom) == near(law.pdf(value))
    assert chi_density(at, freedom) == near(stats.chi(freedom).pdf(value))


@given(freedom=FREEDOM, above=st.sampled_from([1.0, 2.0, 5.0, 29.0]), share=SHARE, value=VALUE)
def test_student_and_fisher(freedom: float, above: float, share: float, value: float) -> None:
    assert t_tail(value, freedom) == near(stats.t(freedom).sf(value))
    assert t_above(share, freedom) == pytest.approx(stats.t(freedom).isf(share), rel=1e-9, abs=1e-12)
    law = stats.f(above, freedom)
    assert f_tail(value, above, freedom) == near(law.sf(value))
    assert f_below(share, above, freedom) == near(law.ppf(share))
    assert f_above(share, above, freedom) == near(law.isf(share))


@given(n=st.integers(1, 900), chance=st.floats(0.001, 0.999), share=SHARE, at=st.floats(0.0, 1.0))
def test_counts_and_their_shares(n: int, chance: float, share: float, at: float) -> None:
    count, law = round(at * n), stats.binom(n, chance)
    assert binomial_above(count - 1, n, chance) == pytest.approx(law.sf(count - 1), rel=1e-9, abs=1e-200)
    assert binomial_upto(np.array([count]), n, chance) == pytest.approx(law.cdf(count), rel=1e-9, abs=1e-200)
    assert beta_below(share, count + 1, n - count + 1) == near(
        stats.beta(count + 1, n - count + 1).ppf(share)
    )
    assert beta_above(share, count + 1, n - count + 1) == near(
        stats.beta(count + 1, n - count + 1).isf(share)
    )


def test_no_spread_left_to_compare_with_and_no_ratio_at_all() -> None:
    assert f_tail(float("inf"), 3.0, 12.0) == 0.0
    assert np.isnan(f_tail(float("nan"), 3.0, 12.0))
