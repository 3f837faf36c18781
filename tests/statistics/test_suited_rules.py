"""Each rule knows the charts it suits, and a chart that it does not suit is refused."""

import numpy as np
import pytest

from spc.errors import Refused
from spc.statistics import RULE_SETS, chart_signals, ewma_limits, find_runs, standardised, xbar_r_limits
from spc.statistics.suited_rules import ANY_CHART, ORDER_CHARTS, ZONE_CHARTS, refuse_unsuited

SPREADS = ("range", "sd")
LINKED = ("moving_range", "ewma", "cusum")


@pytest.mark.parametrize(
    ("name", "on_spreads"),
    [
        # Western Electric 1956: of range and s charts of few pieces only the limits (from memory)
        ("we1956", ["beyond_limits"]),
        # Nelson 1984: tests 1 to 4 only for R, s, p and c charts (from memory)
        ("nelson1984", ["beyond_limits", "nine_on_one_side", "six_trend", "fourteen_alternating"]),
        # ISO 7870-2 and the house set: the choice of this library, as the like tests of 1984
        ("iso7870", ["beyond_limits", "seven_on_one_side", "seven_trend"]),
        ("house", ["beyond_limits", "nine_on_one_side"]),
        ("none", ["beyond_limits"]),
    ],
)
def test_each_set_states_the_charts_it_suits(name, on_spreads):
    for plotted in ANY_CHART:
        suited = [rule.key for rule in RULE_SETS[name] if plotted in rule.suits]
        if plotted in ZONE_CHARTS:
            assert suited == [rule.key for rule in RULE_SETS[name]]
        elif plotted in SPREADS:
            assert suited == on_spreads
        else:
            assert suited == ["beyond_limits"]


@pytest.mark.parametrize("plotted", ANY_CHART)
@pytest.mark.parametrize("name", RULE_SETS)
def test_a_set_is_read_or_refused_as_its_rules_say(plotted, name):
    z = [0.3, -0.2, 3.4]
    if all(plotted in rule.suits for rule in RULE_SETS[name]):
        assert [finding.index for finding in find_runs(z, RULE_SETS[name], plotted)] == [3]
        return
    with pytest.raises(Refused, match="does not suit the chart") as caught:
        find_runs(z, RULE_SETS[name], plotted)
    refusal = caught.value.refusals[0]
    assert f"chart of {plotted.replace('_', ' ')}" in refusal.value
    assert refusal.do
    assert ("trends" in refusal.allowed) == (plotted in ORDER_CHARTS)


def test_the_refusal_says_why():
    for plotted, why in {
        "range": "not alike above and below",
        "sd": "not alike above and below",
        "moving_range": "share a reading",
        "ewma": "carries the ones before",
        "cusum": "carries the ones before",
    }.items():
        with pytest.raises(Refused, match=why):
            find_runs([0.1], RULE_SETS["we1956"], plotted)
    with pytest.raises(Refused, match=r"no such kind of point.*moving_range"):
        find_runs([0.1], RULE_SETS["none"], "p")
    with pytest.raises(Refused, match="no such kind of point"):
        refuse_unsuited((), "")


def test_why_linked_points_are_refused():
    # derivation: the zone tests of 1956 alarm once in 91.75 independent points; on a smoothed value they do so several
    # times as often though nothing has changed
    noise = np.random.default_rng(56).standard_normal((4000, 1))
    chart = ewma_limits(noise.tolist(), target=0.0, sigma=1.0, weight=0.2)
    zones = RULE_SETS["we1956"][1:]
    smoothed = find_runs(standardised(chart.points, chart.centre, chart.upper), zones)
    plain = find_runs(noise[:, 0].tolist(), zones, "individual")
    assert len(smoothed) > 5 * len(plain) > 0


def test_why_zones_do_not_read_ranges():
    # derivation: of ranges of 2 about twice as many lie beyond 2 sigma above as a normal law has, and none below
    ranges = np.abs(np.diff(np.random.default_rng(2).standard_normal((40_000, 2)), axis=1))[:, 0]
    z = (ranges - 1.1283791671) / 0.8525024664
    assert np.mean(z > 2.0) == pytest.approx(2 * 0.02275, rel=0.15)
    assert np.mean(z < -2.0) == 0.0


def test_the_spread_chart_of_a_pair_is_read_by_its_limits_only():
    # nine ranges in a row below their centre are no signal of the pair, nine means above theirs are
    checks = [[10.0, 10.0 + (2.0 if number < 9 else 0.5)] for number in range(24)]
    found = chart_signals(xbar_r_limits(checks), RULE_SETS["we1956"])
    assert {signal.of for signal in found if signal.kind == "run_rule"} == {"location"}
