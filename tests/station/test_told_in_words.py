"""What a check tells and asks for, in words: nothing untrue, and the first word where dies may be at fault."""

import pytest
from shaft import check, event, open_shop, running

from spc.shop import Verdict
from spc.station import Station
from spc.station.reaction_lists import EXPECTED_OUT

JUMPED = ["31.2655", "31.2490", "31.2610", "31.2480", "31.2640"]
"""Mean 31.2575 after quiet checks of 31.250, and pieces that differ four times as much."""


def quiet(checks: int = 8) -> Station:
    live = open_shop()
    running(live, checks)
    return live


def test_a_step_sets_the_gauge_on_its_master_before_the_dies_are_blamed() -> None:
    """Process knowledge, section 6.1: on the master "after a surprising reading"; no piece is rolled for it."""
    reaction = quiet().check_in(check(9, 31.2585, 2700)).reaction
    assert reaction is not None
    assert reaction.steps[0] == "No further piece."
    master = next(place for place, step in enumerate(reaction.steps) if "master" in step)
    dies = next(place for place, step in enumerate(reaction.steps) if "dies" in step)
    assert master < dies
    assert not any("fresh" in step for step in reaction.steps)


def test_a_size_that_jumps_while_the_pieces_differ_more_stops_and_looks_for_a_mark() -> None:
    """Section 1.4: a chip on one tooth shows in the spread and as a mark; ground rule 7: then stop first."""
    verdict = quiet().check_in(check(9, counter=2700, pieces=JUMPED))
    assert verdict.reaction is not None
    assert (verdict.verdict, verdict.reaction.first) == ("watch", "stop")
    assert verdict.reaction.pattern == "the size has jumped, and the pieces differ more"
    assert "mark" in verdict.reaction.steps[1]
    assert "hands" in verdict.reaction.cautions
    assert verdict.next_action.startswith("Stop, no further piece. Look at every flank")


def test_an_odd_piece_is_looked_at_before_fresh_ones_are_rolled() -> None:
    """Ground rule 7: fresh pieces only where nothing points at the dies."""
    odd = ["31.2500", "31.2505", "31.2500", "31.2495", "31.2622"]
    reaction = quiet().check_in(check(9, counter=2700, pieces=odd)).reaction
    assert reaction is not None
    assert "mark" in reaction.steps[0]


def apart(hour: float, times: float) -> list[str]:
    """Five pieces around 31.250 so many times as far apart as on quiet checks, never the same twice in a row."""
    shift = 0.0001 * (round(hour) % 5)
    return [f"{31.250 + times * each + shift:.4f}" for each in (0.0, 0.0022, -0.0022, 0.0012, -0.0012)]


def told_of_spread(live: Station) -> list[Verdict]:
    """Checks with pieces twice as far apart, until one tells of it."""
    said: list[Verdict] = []
    while not said or not any(each.kind == "spread" for each in said[-1].signals):
        hour = 12 + len(said)
        assert hour < 22, "never told"
        said.append(live.check_in(check(hour, counter=300 * hour, pieces=apart(hour, 2.0))))
    return said


def test_a_setting_changed_as_the_pieces_begin_to_differ_is_told_sooner_and_named() -> None:
    changed = quiet(11)
    changed.log(event(11.5, "setting", "0.7", note="dwell_s", counter=3450))
    with_it, without = told_of_spread(changed), told_of_spread(quiet(11))
    assert len(with_it) < len(without)
    (signal,) = with_it[-1].signals
    assert signal.explanations[0].cause == "setting"
    assert "dwell set to 0.7 s" in signal.explanations[0].says
    assert with_it[-1].reaction is not None
    assert with_it[-1].reaction.pattern == "the pieces differ more since a setting was changed"
    assert "dwell set to 0.7 s" in with_it[-1].next_action
    assert all(each.cause != "setting" for each in without[-1].signals[0].explanations)


def test_a_setting_put_right_after_the_pieces_began_to_differ_is_not_blamed() -> None:
    live = quiet(11)
    for hour in range(12, 18):
        if any(
            each.kind == "spread"
            for each in live.check_in(check(hour, counter=300 * hour, pieces=apart(hour, 2.0))).signals
        ):
            break
        live.check_in(check(hour + 0.5, counter=300 * hour + 150, pieces=apart(hour + 1, 1.4)))
    live.log(event(18.1, "setting", "1.4", note="dwell_s", counter=5430))
    for hour in range(19, 24):
        verdict = live.check_in(check(hour, counter=300 * hour))
        assert not any(each.kind == "spread" for each in verdict.signals)


def test_a_hold_on_pieces_nobody_gauged_asks_for_no_piece_to_be_gauged_again() -> None:
    live = quiet(12)
    for hour in range(13, 40):
        verdict = live.check_in(check(hour, 31.250 + 0.0012 * (hour - 12), 300 * hour))
        if verdict.verdict == "hold":
            break
    out = [each.says for each in verdict.signals if each.kind == "out_of_tolerance"]
    assert out
    assert all(each.startswith(EXPECTED_OUT) for each in out)
    assert "same piece" not in verdict.next_action
    assert verdict.reaction is not None
    if verdict.reaction.first == "gauge":
        assert not any("same piece" in each for each in verdict.reaction.steps)


@pytest.mark.parametrize("note", ["", "slide stop found loose, clamped again"])
def test_a_size_that_comes_back_is_told_as_coming_back_and_a_note_is_quoted(note: str) -> None:
    """One mean below the forecast was told as "up since four checks ago", and kept in the record as a second step."""
    live = quiet(12)
    for hour in range(13, 17):
        live.check_in(check(hour, 31.259, 300 * hour))
    if note:
        live.log({**event(16.5, "note", "", note=note), "part": ""})
    back = live.check_in(check(17, 31.250, 5100))
    (signal,) = [each for each in back.signals if each.kind == "beyond_limits"]
    step = next(each for each in signal.explanations if each.cause == "step")
    assert "below" in signal.says
    assert "down at this check" in step.says
    assert (note in step.says) if note else ("noted" not in step.says)


def test_a_start_from_cold_asks_for_warm_up_pieces() -> None:
    """Process knowledge, pattern 4: run the warm-up pieces, first-off again when stable; the slide stays."""
    live = quiet(12)
    live.log(event(12.1, "machine_stopped", "400", counter=3600))
    verdict = live.check_in(check(19.2, 31.259, 3640))
    likeliest = max(verdict.signals[0].explanations, key=lambda each: each.weight).cause
    assert likeliest == "warm_up"
    assert "warm-up pieces" in verdict.next_action
    assert "Leave the slide" in verdict.next_action
