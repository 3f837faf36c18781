"""Run lengths against published tables and simulation."""

import numpy as np
import pytest
from published_tables import columns

from spc.errors import Refused
from spc.statistics.run_lengths import average_run_length, shewhart_run_length
from spc.statistics.run_rules import RULE_SETS, find_runs

ALL = {rule.key: rule for rules in RULE_SETS.values() for rule in rules}
LIMITS = ALL["beyond_limits"]
ZONE_TABLE = columns("run_lengths_zone_rules")
SHEWHART_TABLE = columns("run_lengths_shewhart")


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
        assert average_run_length(rules, shift).mean_points == pytest.approx(published, abs=0.0051), shift


@pytest.mark.parametrize("n", [1, 2, 3, 4, 5, 9, 10])
def test_plain_limits_meet_the_table(n):
    # anchors 370.4, 43.89, 6.30, 2.00 and n = 5: 4.50 published (Montgomery; Montgomery & Runger p. 617)
    for shift, value in zip(SHEWHART_TABLE["shift"], SHEWHART_TABLE[f"n{n}"], strict=True):
        assert shewhart_run_length(shift, n) == pytest.approx(value, abs=5.1e-5), shift


def test_house_rules_and_their_price():
    # rule 1 plus nine on one side: 216.696, at 0.5: 57.779, 1: 17.053, 2: 5.141; plus seven: 95.731 ... (computed)
    for shift, value in {0.0: 216.696, 0.5: 57.779, 1.0: 17.053, 2.0: 5.141}.items():
        assert average_run_length(RULE_SETS["house"], shift).mean_points == pytest.approx(value, abs=5.1e-4)
    seven = (LIMITS, ALL["seven_on_one_side"])
    for shift, value in {0.0: 95.731, 0.5: 32.613, 1.0: 12.185, 2.0: 4.588}.items():
        assert average_run_length(seven, shift).mean_points == pytest.approx(value, abs=5.1e-4)


def test_single_runs_have_closed_forms():
    # a run of r on either side: 2^r - 1; m in a row of chance p: (1 - p^m) / ((1 - p) p^m)
    for key, r in {"seven_on_one_side": 7, "eight_on_one_side": 8, "nine_on_one_side": 9}.items():
        assert average_run_length([ALL[key]]).mean_points == pytest.approx(2**r - 1, rel=1e-9)
    assert average_run_length([ALL["fifteen_inside"]]).mean_points == pytest.approx(963.2715, abs=5.1e-5)
    assert average_run_length([ALL["eight_outside"]]).mean_points == pytest.approx(14251.37, abs=0.0051)


def test_chain_agrees_with_reading_simulated_records():
    rules, shift = RULE_SETS["we1956"], 0.6
    rng = np.random.default_rng(1956)
    lengths = [find_runs(list(rng.standard_normal(160) + shift), rules)[0].index for _ in range(225)]
    exact = average_run_length(rules, shift).mean_points
    assert np.mean(lengths) == pytest.approx(exact, abs=4 * np.std(lengths) / 15)


def test_shifts_up_and_down_are_alike():
    for name in ("house", "we1956"):
        up, down = (average_run_length(RULE_SETS[name], shift).mean_points for shift in (0.7, -0.7))
        assert up == pytest.approx(down, rel=1e-10)


def test_more_rules_never_lengthen_the_wait():
    zones = [rule for rule in RULE_SETS["nelson1984"] if rule.pattern not in ("trend", "alternating")]
    waits = [average_run_length(zones[:count]).mean_points for count in range(1, len(zones) + 1)]
    assert waits == sorted(waits, reverse=True)


def test_result_says_how_it_came_to_be():
    result = average_run_length(RULE_SETS["we1956"], 1.0)
    assert result.rules == ("beyond_limits", "two_of_three", "four_of_five", "eight_on_one_side")
    assert (result.shift_sigma, result.method) == (1.0, "finite Markov chain, exact")
    assert result.states > 1


def test_what_has_no_finite_chain_is_refused():
    with pytest.raises(Refused, match="rising or falling"):
        average_run_length(RULE_SETS["iso7870"])
    with pytest.raises(Refused, match="no rule"):
        average_run_length(())
    with pytest.raises(Refused, match="not finite"):
        average_run_length(RULE_SETS["none"], float("nan"))
    with pytest.raises(Refused, match="at least 1 piece"):
        shewhart_run_length(1.0, n=0)
