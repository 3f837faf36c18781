"""The interval by checks holds the interval by pieces at both ends: related pieces know less than independent ones."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.statistics import capability, honest_capability
from spc.statistics.fitted_model import fit_model
from spc.statistics.honest_percentiles import honest_percentiles
from spc.statistics.index_intervals import Estimate
from spc.statistics.percentile_indices import percentile_indices

ALIKE = [[1.0, 2.0, 3.0], [3.0, 1.0, 2.0], [2.0, 3.1, 1.0], [1.1, 2.0, 3.0], [3.0, 2.1, 1.0], [1.0, 2.9, 2.0]]
"""Checks that differ less than their pieces explain: the part between them is negative."""


def holds(honest: Estimate, textbook: Estimate) -> bool:
    return honest.low <= textbook.low and textbook.high <= honest.high


def test_checks_that_happen_to_agree_know_no_more_than_their_pieces() -> None:
    honest, plain = honest_capability(ALIKE, -2.0, 6.0), capability(ALIKE, -2.0, 6.0)
    assert honest.effective_n == pytest.approx(18.0)
    assert honest.standard_error == pytest.approx(np.std(np.ravel(ALIKE), ddof=1) / 18**0.5)
    assert holds(honest.ppk, plain.ppk)
    assert honest.ppk.high > plain.ppk.high  # Student's t of 6 checks on top of it


@settings(max_examples=40)
@given(
    checks=st.integers(2, 12),
    pieces=st.integers(1, 5),
    wander=st.floats(0.0, 3.0),
    seed=st.integers(0, 2**31),
    upper_alone=st.booleans(),
)
def test_no_honest_interval_is_narrower(
    checks: int, pieces: int, wander: float, seed: int, upper_alone: bool
) -> None:
    random = np.random.default_rng(seed)
    sizes = (random.normal(size=(checks, pieces)) + wander * random.normal(size=(checks, 1))).tolist()
    lower = None if upper_alone else -6.0
    honest, plain = honest_capability(sizes, lower, 6.0), capability(sizes, lower, 6.0)
    assert honest.effective_n <= checks * pieces * (1.0 + 1e-12)
    assert holds(honest.cpk, plain.cpk)
    assert holds(honest.ppk, plain.ppk)
    assert holds(honest.fallout, plain.fallout)
    for wide, narrow in ((honest.cp, plain.cp), (honest.pp, plain.pp)):
        assert (wide is None) == (narrow is None) == upper_alone
        if wide is not None and narrow is not None:
            assert wide.low <= narrow.low + 1e-12
            assert wide.high >= narrow.high - 1e-12


@pytest.mark.parametrize("model", ["rayleigh", "half_normal", "weibull", "empirical"])
def test_redrawn_checks_never_say_more_than_their_pieces(model: str) -> None:
    """Even spaced quantiles of a Rayleigh model dealt out to checks: a shorter spread than chance would bring."""
    run_out = np.sqrt(-2.0 * np.log1p(-(np.arange(60) + 0.5) / 60)).reshape(3, 20).T[:, ::-1]
    found = honest_percentiles(run_out.tolist(), model, upper=6.0, seed=3)
    textbook = percentile_indices(fit_model(np.ravel(run_out).tolist(), model), None, 6.0, seed=3)
    assert holds(found.ppk, textbook.ppk)
    assert holds(found.fallout, textbook.fallout_ppm)
    known = honest_percentiles(run_out.tolist(), model, upper=6.0, seed=3, textbook=textbook)
    assert known == found
