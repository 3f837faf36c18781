"""Run lengths of plain limits and run rules against published tables, closed forms and simulation."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_tables import columns

from spc.errors import Refused
from spc.statistics.ordered_chain import ordered_survival
from spc.statistics.rule_sets import RULE_SETS
from spc.statistics.rules_law import rules_law
from spc.statistics.run_length_law import law_of_survival
from spc.statistics.run_rules import find_runs
from spc.statistics.shewhart_law import shewhart_law

ALL = {rule.key: rule for rules in RULE_SETS.values() for rule in rules}
LIMITS = ALL["beyond_limits"]
ZONE_TABLE = columns("run_lengths_zone_rules")
SHEWHART_TABLE = columns("run_lengths_shewhart")
DRIFT_TABLE = columns("run_lengths_drift")


def simulated(rules, shift, drift, runs, seed):
    """Run lengths of records read by `find_runs`, in pieces of 60 points."""
    rng, lengths = np.random.default_rng(seed), []
    for _ in range(runs):
        z = []
        while not (found := find_runs(z, rules)):
            z += list(rng.standard_normal(60) + shift + drift * np.arange(len(z) + 1, len(z) + 61))
        lengths.append(found[0].index)
    return np.array(lengths)


@pytest.mark.parametrize(
    ("heading", "rules"),
    [
        ("rule_1", RULE_SETS["none"]),
        ("rules_1_2", (LIMITS, ALL["two_of_three"])),
        ("rules_1_2_3_4", RULE_SETS["we1956"]),
    ],
)
def test_zone_rules_meet_champ_and_woodall(heading, rules):
    # Technometrics 29 (1987) 393-399: 370.40, 225.44, 91.75 in control (from memory); shifts computed
    for shift, published in zip(ZONE_TABLE["shift"], ZONE_TABLE[heading], strict=True):
        assert rules_law(rules, shift).mean_points == pytest.approx(published, abs=0.0051), shift


@pytest.mark.parametrize("n", [1, 2, 3, 4, 5, 9, 10])
def test_plain_limits_meet_the_table(n):
    # anchors 370.4, 43.89, 6.30, 2.00 and n = 5: 4.50 published (Montgomery; Montgomery & Runger p. 617)
    for shift, value in zip(SHEWHART_TABLE["shift"], SHEWHART_TABLE[f"n{n}"], strict=True):
        assert shewhart_law(shift * sqrt(n)).mean_points == pytest.approx(value, abs=5.1e-5), shift


def test_plain_limits_in_a_drift_meet_the_table():
    for drift, value in zip(DRIFT_TABLE["drift"], DRIFT_TABLE["shewhart"], strict=True):
        assert shewhart_law(0.0, drift).mean_points == pytest.approx(value, abs=0.0051)
        assert rules_law([LIMITS], 0.0, drift).mean_points == pytest.approx(value, abs=0.0051)


def test_a_step_leaves_a_geometric_law():
    # geometric with chance p: mean 1/p, sd sqrt(1-p)/p, share q reached at ceil(log(1-q)/log(1-p))
    law = shewhart_law(1.0)
    p = 1.0 / law.mean_points
    assert law.sd_points == pytest.approx(sqrt(1.0 - p) / p, rel=1e-9)
    for share, points in law.percentiles:
        assert points == np.ceil(np.log(1.0 - share) / np.log(1.0 - p))


def test_pieces_before_the_signal_of_the_process_page():
    # (ARL - 0.5) x 300 pieces between checks: 46 400 / 13 000 / 4 340 / 1 740 / 450 / 207 (computed, rounded)
    for step, pieces, half in [(0.5, 46400, 50), (1, 13000, 50), (1.5, 4340, 5), (2, 1740, 5), (3, 450, 5)]:
        assert (shewhart_law(step).mean_points - 0.5) * 300 == pytest.approx(pieces, abs=half)
    # The page prints 207 at 4 sigma: (1.1886 - 0.5) x 300 = 206.57, so 207 is right
    assert (shewhart_law(4).mean_points - 0.5) * 300 == pytest.approx(207, abs=0.5)


def test_house_rules_and_their_price():
    # rule 1 plus nine on one side: 216.696, at 0.5: 57.779, 1: 17.053, 2: 5.141; plus seven: 95.731 ... (computed)
    for shift, value in {0.0: 216.696, 0.5: 57.779, 1.0: 17.053, 2.0: 5.141}.items():
        assert rules_law(RULE_SETS["house"], shift).mean_points == pytest.approx(value, abs=5.1e-4)
    seven = (LIMITS, ALL["seven_on_one_side"])
    for shift, value in {0.0: 95.731, 0.5: 32.613, 1.0: 12.185, 2.0: 4.588}.items():
        assert rules_law(seven, shift).mean_points == pytest.approx(value, abs=5.1e-4)


def test_single_runs_have_closed_forms():
    # a run of r on either side: 2^r - 1; m in a row of chance p: (1 - p^m) / ((1 - p) p^m)
    for key, r in {"seven_on_one_side": 7, "eight_on_one_side": 8, "nine_on_one_side": 9}.items():
        assert rules_law([ALL[key]]).mean_points == pytest.approx(2**r - 1, rel=1e-9)
    assert rules_law([ALL["fifteen_inside"]]).mean_points == pytest.approx(963.2715, abs=5.1e-5)
    assert rules_law([ALL["eight_outside"]]).mean_points == pytest.approx(14251.37, abs=0.0051)


def test_first_chances_of_order_rules_are_counted_exactly():
    # of 6! orders 2 rise or fall all the way
    survival = ordered_survival((ALL["six_trend"],), 0.0, 0.0)
    chances = [next(survival) for _ in range(7)]
    assert chances[:5] == pytest.approx([1.0] * 5, abs=1e-14)
    assert chances[5] == pytest.approx(1.0 - 2.0 / 720.0, abs=1e-14)
    # first at 7: the last six monotone (2 x 7 orders of 5040), less all seven monotone (2)
    assert chances[6] == pytest.approx(1.0 - 2.0 / 720.0 - (2 * 7 - 2) / 5040.0, abs=1e-14)
    # up-down permutations of 14: 2 x E(14) / 14!, E(14) = 199360981 (Euler zigzag numbers)
    zigzag = ordered_survival((ALL["fourteen_alternating"],), 0.0, 0.0)
    assert [next(zigzag) for _ in range(14)][-1] == pytest.approx(1 - 2 * 199360981 / 87178291200, abs=1e-12)


@pytest.mark.parametrize(
    ("rules", "drift", "page", "runs_of_40000", "se"),
    [
        # process page: own simulation of the 6-point rule 426, in drift 0.1 / 0.2 / 0.5: 343 / 201 / 54, with limits
        # 198, 18.1, 10.9. A second simulation of 40,000 runs stands with ours, so the page's small one is off by 2 %.
        ([ALL["six_trend"]], 0.0, 426, 422.03, 2.10),
        ([ALL["six_trend"]], 0.1, 343, 332.64, 1.62),
        ([ALL["six_trend"]], 0.5, 54, 53.67, 0.24),
        ([LIMITS, ALL["six_trend"]], 0.0, 198, 198.34, 0.97),
        ([LIMITS, ALL["six_trend"]], 0.1, 18.1, 18.147, 0.029),
        ([LIMITS, ALL["six_trend"]], 0.2, 10.9, 10.915, 0.016),
    ],
)
def test_trend_rules_meet_simulations(rules, drift, page, runs_of_40000, se):
    law = rules_law(rules, 0.0, drift)
    assert law.mean_points == pytest.approx(runs_of_40000, abs=3 * se)
    assert law.mean_points == pytest.approx(page, rel=0.03)


def test_nodes_hold_the_stated_error():
    rules = RULE_SETS["iso7870"]
    for drift in (0.0, 0.2):
        fine = law_of_survival(
            ordered_survival(rules, 0.3, drift, nodes=12),
            shift_sigma=0.3,
            drift_sigma=drift,
            method="finer",
            memory_points=7,
        )
        law = rules_law(rules, 0.3, drift)
        assert law.mean_points == pytest.approx(fine.mean_points, rel=law.relative_error)


@pytest.mark.parametrize(
    ("name", "shift", "drift"), [("we1956", 0.6, 0.0), ("nelson1984", 0.8, 0.0), ("iso7870", 0.0, 0.1)]
)
def test_laws_agree_with_reading_simulated_records(name, shift, drift):
    lengths = simulated(RULE_SETS[name], shift, drift, 150, 1956)
    law = rules_law(RULE_SETS[name], shift, drift)
    assert np.mean(lengths) == pytest.approx(law.mean_points, abs=4 * law.sd_points / sqrt(150))
    assert np.mean(lengths <= law.within(0.5)) == pytest.approx(0.55, abs=0.2)


@given(st.sampled_from(["house", "iso7870"]), st.floats(0.1, 3.0))
@settings(max_examples=8, deadline=None)
def test_shifts_up_and_down_are_alike(name, shift):
    up, down = (rules_law(RULE_SETS[name], side * shift) for side in (1.0, -1.0))
    assert up.mean_points == pytest.approx(down.mean_points, rel=1e-9)
    assert up.percentiles == down.percentiles


def test_more_rules_never_lengthen_the_wait():
    rules = RULE_SETS["nelson1984"]
    waits = [rules_law(rules[:count]).mean_points for count in range(1, len(rules) + 1)]
    assert waits == sorted(waits, reverse=True)


def test_result_says_how_it_came_to_be():
    law = rules_law(RULE_SETS["we1956"], 1.0)
    assert (law.shift_sigma, law.drift_sigma, law.method) == (1.0, 0.0, "finite chain, exact")
    assert "density" in rules_law(RULE_SETS["iso7870"]).method
    assert [share for share, _ in law.percentiles] == [0.05, 0.25, 0.5, 0.75, 0.95]


def test_what_has_no_run_length_is_refused():
    with pytest.raises(Refused, match="no rule"):
        rules_law(())
    with pytest.raises(Refused, match="not finite"):
        rules_law(RULE_SETS["none"], float("nan"))
    with pytest.raises(Refused, match="drift is missing"):
        shewhart_law(0.0, float("inf"))
    with pytest.raises(Refused, match="some width"):
        shewhart_law(width=0.0)
    with pytest.raises(Refused, match="no percentile"):
        shewhart_law().within(0.99)
