"""Comparisons beside lines, with alike neighbours, on the master and in families: checked against other libraries."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import tukey_hsd
from statsmodels.formula.api import ols
from statsmodels.stats.multitest import multipletests
from statsmodels.tsa.stattools import acf

from spc.errors import Refused
from spc.statistics.beside_lines import beside_lines
from spc.statistics.cautious_comparison import cautious_comparison
from spc.statistics.compare_groups import compare_groups
from spc.statistics.comparison_words import comparison_in_words
from spc.statistics.group_neighbours import group_neighbours
from spc.statistics.holm import holm
from spc.statistics.on_the_master import on_the_master
from spc.statistics.two_means import two_means


@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=12))
def test_holm_agrees_with_a_general_library(chances: list[float]) -> None:
    assert holm(chances) == pytest.approx(multipletests(chances, method="holm")[1], abs=1e-12)


def test_a_chance_above_one_is_refused() -> None:
    with pytest.raises(Refused, match="out of range"):
        holm([0.2, 1.2])


def test_single_checks_agree_with_tukey_of_a_general_library() -> None:
    rng = np.random.default_rng(5)
    groups = [list(rng.normal(mean, 1.0, size)) for mean, size in ((0.0, 8), (1.5, 6), (0.2, 9))]
    found = compare_groups({name: [[v] for v in g] for name, g in zip("abc", groups, strict=True)})
    other = tukey_hsd(*groups)
    interval = other.confidence_interval(0.95)
    for pair in found.pairs:
        assert pair.p == pytest.approx(other.pvalue[pair.second, pair.first], abs=1e-6)
        assert pair.low == pytest.approx(interval.low[pair.second, pair.first], abs=1e-6)


def lives() -> pd.DataFrame:
    """Two mountings of one life and one of another; day and night take turns; night 1.8 higher."""
    rng = np.random.default_rng(7)
    rows = []
    for mounting, (life, level, slope) in enumerate([("A", 0.0, 0.9), ("A", 3.0, 0.9), ("B", -2.0, 0.4)]):
        for place in range(20 + 3 * mounting):
            shift = "night" if (place // 4) % 2 else "day"
            size = level + slope * place + 1.8 * (shift == "night") + rng.normal(0.0, 0.3)
            rows.append((size, float(place), mounting, life, shift))
    return pd.DataFrame(rows, columns=["y", "x", "mounting", "life", "shift"])


def test_groups_beside_lines_agree_with_least_squares_of_a_general_library() -> None:
    data = lives()
    found = beside_lines(data.y, data.x, data.mounting, data.life, data["shift"])
    fit = ols("y ~ C(mounting) + C(life):x + C(shift)", data).fit()
    values = np.array(found.values)
    night = np.array(data["shift"] == "night")
    assert values[night].mean() - values[~night].mean() == pytest.approx(
        fit.params["C(shift)[T.night]"], abs=1e-9
    )
    assert found.spent == 4  # three levels and two slopes beyond one common mean
    plain = fit.scale * (1.0 / night.sum() + 1.0 / (~night).sum())
    assert found.dearer == pytest.approx(fit.bse["C(shift)[T.night]"] ** 2 / plain, rel=1e-9)


@given(st.floats(-50.0, 50.0), st.floats(-3.0, 3.0))
def test_no_line_moves_what_is_left(level: float, slope: float) -> None:
    data = lives()
    before = beside_lines(data.y, data.x, data.mounting, data.life, data["shift"])
    moved = data.y + level + slope * data.x
    after = beside_lines(moved, data.x, data.mounting, data.life, data["shift"])
    assert after.values == pytest.approx(before.values, abs=1e-8)


def test_groups_that_change_with_the_dies_only_are_refused() -> None:
    with pytest.raises(Refused, match="cannot be told from the dies"):
        beside_lines([1.0, 2.0, 5.0, 6.5], [0, 1, 0, 1], "aabb", "aabb", "ddnn")


def test_degrees_of_freedom_spent_before_give_the_interval_of_the_whole_fit() -> None:
    """Lines taken out first, one check a unit: widened, it is the interval of one fit with everything in it."""
    data = lives()
    found = beside_lines(data.y, data.x, data.mounting, data.life, data["shift"])
    named = {
        name: [[v] for v, s in zip(found.values, data["shift"], strict=True) if s == name]
        for name in ("day", "night")
    }
    wide = cautious_comparison(compare_groups(named), dearer=1.0, df_lost=found.spent).pairs[0]
    fit = ols("y ~ C(mounting) + C(life):x + C(shift)", data).fit()
    low, _ = fit.conf_int(0.05).loc["C(shift)[T.night]"]
    reach = (fit.params["C(shift)[T.night]"] - low) / found.dearer**0.5
    assert wide.df == fit.df_resid
    assert wide.difference - wide.low == pytest.approx(reach, rel=1e-6)


def test_nothing_left_is_refused_and_nothing_to_widen_is_left_alone() -> None:
    found = compare_groups({"a": [[1.0], [2.0], [3.0]], "b": [[3.0], [5.0], [4.0]]})
    assert cautious_comparison(found) is found
    with pytest.raises(Refused, match="too little is left"):
        cautious_comparison(found, df_lost=4)


def test_neighbours_agree_with_a_general_library_and_widen_as_an_average_of_such_a_row() -> None:
    rng = np.random.default_rng(11)
    row = [0.0]
    for _ in range(400):
        row.append(0.6 * row[-1] + rng.normal())
    found = group_neighbours([row])
    assert found.r == pytest.approx(acf(row, nlags=1)[1], abs=1e-12)
    assert found.dearer == pytest.approx((1 + found.r) / (1 - found.r))
    means = [np.mean(_row(rng)) for _ in range(4000)]  # variance of a mean of 40 such: (1.6/0.4) 1.5625 / 40
    assert np.var(means) == pytest.approx(
        4.0 * 1.5625 / 40, rel=0.08
    )  # 4 % low at n = 40, as the law is for long rows


def _row(rng: np.random.Generator) -> list[float]:
    row = [rng.normal() / 0.8]
    for _ in range(39):
        row.append(0.6 * row[-1] + rng.normal())
    return row


def test_unrelated_neighbours_widen_nothing() -> None:
    rng = np.random.default_rng(3)
    found = [group_neighbours([rng.normal(size=15), rng.normal(size=15)]).dearer for _ in range(400)]
    assert sum(each > 1.0 for each in found) <= 0.05 * 400
    assert group_neighbours([[1.0, 2.0, 3.0]]).dearer == 1.0


def test_the_master_agrees_with_two_means_and_equal_readings_are_as_sure_as_their_step() -> None:
    day, night = [0.1, -0.2, 0.0], [1.4, 1.9, 1.6]
    ((_, _, found),) = on_the_master(["day", "night"], {"day": day, "night": night}, step=0.1)
    assert found == two_means(night, day)
    ((_, _, equal),) = on_the_master(["day", "night"], {"day": [0.0, 0.0], "night": [1.6, 1.6]}, step=0.1)
    assert (round(equal.difference, 9), equal.low > 1.4) == (1.6, True)
    with pytest.raises(Refused, match="not compared"):
        on_the_master(["day", "night"], {"late": [1.0, 1.1]})


@pytest.mark.parametrize(
    ("day", "night", "says"),
    [
        ([0.0, 0.1, -0.1], [1.6, 1.7, 1.5], "differs by 1.60, so look at the gauge first."),
        ([0.0, 0.1, -0.1], [0.1, 0.0, 0.2], "differs by 0.10, so the gauge does not explain it."),
        ([0.0, 2.0], [1.6, 3.6], "differs by 1.60, too unsure to say whether the gauge explains it."),
        ([0.0, 0.1, -0.1], [-0.5, -0.4, -0.6], "by 0.50 the other way, so the gauge does not explain it."),
    ],
)
def test_what_the_master_says_about_the_gauge(day: list[float], night: list[float], says: str) -> None:
    checks = {"day": [[1.0, 1.4], [0.6, 1.0], [1.2, 1.2]], "night": [[2.8, 3.0], [2.6, 3.2], [3.0, 2.4]]}
    told = comparison_in_words(compare_groups(checks, same_master={"day": day, "night": night}))
    assert told.endswith(says)
