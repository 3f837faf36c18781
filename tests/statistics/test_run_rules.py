"""Run rules read as published, in a whole record and at its newest point."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spc.errors import Refused
from spc.statistics.rule_sets import RULE_SETS, longest_window, rule_set
from spc.statistics.run_rules import find_runs, last_point_findings

# One pattern per rule, as defined in the Western Electric handbook (1956, quoted in teaching texts), by Nelson,
# J. Quality Technology 16(4) 237-239 (1984), and in ISO 7870-2:2013 clause 8 (both from memory).
# Each list completes its rule exactly at its last point.
PATTERNS = {
    "beyond_limits": [0.2, -0.4, 3.1],
    "two_of_three": [2.2, 0.1, 2.1],
    "four_of_five": [1.2, 1.3, -0.2, 1.1, 1.4],
    "seven_on_one_side": [-0.3, 0.1, 0.4, 0.2, 0.9, 0.3, 0.2, 0.1],
    "eight_on_one_side": [-0.3, 0.1, 0.4, 0.2, 0.9, 0.3, 0.2, 0.1, 0.5],
    "nine_on_one_side": [-0.3, 0.1, 0.4, 0.2, 0.9, 0.3, 0.2, 0.1, 0.5, 0.1],
    "six_trend": [-0.6, -0.7, -0.2, 0.1, 0.2, 0.5, 0.9],
    "seven_trend": [-0.6, -0.7, -0.2, 0.1, 0.2, 0.5, 0.9, 0.95],
    "fourteen_alternating": [0.5, -0.5] * 7,
    "fifteen_inside": [0.9, -0.2, -0.4] * 5,
    "eight_outside": [1.2, -1.3, 1.1, -1.5] * 2,
}
ALL = {rule.key: rule for rules in RULE_SETS.values() for rule in rules}


@pytest.mark.parametrize("key", PATTERNS)
def test_each_pattern_is_completed_by_its_last_point_and_not_before(key):
    for sign in (1.0, -1.0):
        z = [sign * value for value in PATTERNS[key]]
        found = find_runs(z, [ALL[key]])
        assert [(finding.index, finding.rule) for finding in found] == [(len(z), key)]
        assert any(character.isdigit() for character in found[0].says)


def test_every_rule_has_its_pattern_here():
    assert set(PATTERNS) == set(ALL)


def test_sets_have_the_published_rules():
    # one side 8 / 9 / 7, trend none / 6 / 7 for 1956 / 1984 / ISO
    assert {name: len(rules) for name, rules in RULE_SETS.items()} == {
        "none": 1,
        "house": 2,
        "we1956": 4,
        "nelson1984": 8,
        "iso7870": 3,
    }
    runs = {
        name: [rule.window for rule in rules if rule.key.endswith("one_side")]
        for name, rules in RULE_SETS.items()
    }
    assert runs == {"none": [], "house": [9], "we1956": [8], "nelson1984": [9], "iso7870": [7]}
    trends = {
        name: [rule.window for rule in rules if rule.pattern == "trend"] for name, rules in RULE_SETS.items()
    }
    assert trends == {"none": [], "house": [], "we1956": [], "nelson1984": [6], "iso7870": [7]}
    assert longest_window(RULE_SETS["nelson1984"]) == 15
    assert longest_window(()) == 0


def test_the_marked_point_itself_lies_in_the_zone():
    assert find_runs([2.2, 2.3, 0.1], [ALL["two_of_three"]])[-1].index == 2
    assert find_runs([1.2, 1.2, 1.2, 1.2, 0.5], [ALL["four_of_five"]])[-1].index == 4


def test_sides_do_not_add_up():
    assert find_runs([2.2, -2.3, 2.4, -2.2], [ALL["two_of_three"]])[0].index == 3
    assert find_runs([2.2, -2.3], [ALL["two_of_three"]]) == ()


def test_ties_belong_to_neither_side():
    assert find_runs([0.5] * 4 + [0.0] + [0.5] * 8, [ALL["nine_on_one_side"]]) == ()
    assert find_runs([3.0, -3.0], RULE_SETS["none"]) == ()
    assert find_runs([0.1, 0.2, 0.3, 0.3, 0.4, 0.5, 0.6], [ALL["six_trend"]]) == ()
    assert find_runs([3.0 + 1e-13], RULE_SETS["none"]) == ()  # rounding, not a difference
    assert find_runs([1.0] * 20, [ALL["fifteen_inside"], ALL["eight_outside"]]) == ()


def test_sentences_name_side_and_number():
    assert (
        find_runs([-3.456], RULE_SETS["none"])[0].says == "3.46 σ below the centre, beyond the limit at 3 σ"
    )
    assert find_runs([2.2, 0.1, 2.1], [ALL["two_of_three"]])[0].says == (
        "2 of the last 3 points more than 2 σ above the centre"
    )
    falling = find_runs([0.5, 0.4, 0.3, 0.2, 0.1, 0.0], [ALL["six_trend"]])
    assert falling[0].says == "6 points in a row falling, by 0.50 σ together"


def test_nothing_is_found_in_nothing():
    assert find_runs([], RULE_SETS["nelson1984"]) == ()
    assert last_point_findings([], RULE_SETS["nelson1984"]) == ()


def test_an_unknown_set_is_refused_with_the_list():
    assert rule_set("house") is RULE_SETS["house"]
    with pytest.raises(Refused, match="none, house, we1956, nelson1984, iso7870"):
        rule_set("all")


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(-3.5, 3.5).map(lambda z: round(z, 1)), max_size=40), st.sampled_from(sorted(RULE_SETS))
)
def test_the_newest_point_says_the_same_live_and_in_the_record(z, name):
    rules = RULE_SETS[name]
    span = longest_window(rules)
    live = [
        (end, finding.rule, finding.says)
        for end in range(1, len(z) + 1)
        for finding in last_point_findings(z[max(0, end - span) : end], rules)
    ]
    assert live == [(finding.index, finding.rule, finding.says) for finding in find_runs(z, rules)]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(-3.5, 3.5).map(lambda z: round(z, 2)), max_size=30))
def test_above_and_below_are_read_alike(z):
    rules = RULE_SETS["nelson1984"]
    places = [(finding.index, finding.rule) for finding in find_runs(z, rules)]
    assert places == [(finding.index, finding.rule) for finding in find_runs([-value for value in z], rules)]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([-2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 3.5]), max_size=25))
def test_zone_tests_agree_with_counting_by_hand(z):
    expected = set()
    for i in range(len(z)):
        for side in (1, -1):
            y = [side * value for value in z[: i + 1]]
            expected |= {(i + 1, "beyond_limits")} if y[-1] > 3 else set()
            expected |= {(i + 1, "two_of_three")} if y[-1] > 2 and sum(v > 2 for v in y[-3:]) >= 2 else set()
            expected |= {(i + 1, "four_of_five")} if y[-1] > 1 and sum(v > 1 for v in y[-5:]) >= 4 else set()
            expected |= {(i + 1, "eight_on_one_side")} if len(y) > 7 and min(y[-8:]) > 0 else set()
    assert {(finding.index, finding.rule) for finding in find_runs(z, RULE_SETS["we1956"])} == expected
