"""The ordered reaction: which list comes first, what to look for, and the cautions that belong."""

import re

import pytest
from shaft import check, event, open_shop, running

from spc.station import verdict_line
from spc.station.reaction_lists import PATTERNS

BLADE = ('name = "bow"\nkind = "straightness"', 'name = "bow"\nkind = "straightness"\nset_by = "blade"')
ODD = ["31.2500", "31.2505", "31.2500", "31.2495", "31.2622"]
WIDE = ["31.259", "31.241", "31.250", "31.258", "31.242"]
OUT = ["31.269", "31.262", "31.261", "31.263", "31.262"]


def after(checks=8, live=None, **last):
    live = live or open_shop()
    running(live, checks)
    return live.check_in(check(checks + 1, counter=300 * (checks + 1), **last))


def test_a_quiet_check_asks_for_nothing():
    verdict = after()
    assert verdict.reaction is None
    assert verdict_line(verdict)["reaction"] is None


@pytest.mark.parametrize(
    ("answer", "pattern"),
    [("flakes", "flakes or slivers"), ("chip mark", "a chip mark on the part")],
)
def test_a_find_by_eye_stops_first(answer, pattern):
    """Ground rule 7: "on a chip mark, flakes … the first word is *stop, no further piece*"."""
    verdict = after(values={"look": ["ok", answer]})
    reaction = verdict.reaction
    assert (reaction.first, reaction.pattern) == ("stop", pattern)
    assert reaction.steps[0] == "No further piece."
    assert "hands" in reaction.cautions
    assert not any("fresh" in each for each in reaction.steps)
    assert verdict.next_action.startswith("Stop, no further piece")


def test_a_step_that_no_event_explains_stops_first():
    """Ground rule 7: "… or a step that no event explains"."""
    verdict = after(mean=31.2585)
    assert verdict.verdict == "watch"
    assert verdict.reaction.first == "stop"
    assert verdict.reaction.causes[0] == "a die tooth chipped"
    assert verdict.next_action.startswith("Stop, no further piece")


@pytest.mark.parametrize(
    ("pieces", "pattern"),
    [(ODD, "one piece apart from the others"), (WIDE, "the pieces differ more than before")],
)
def test_everything_else_begins_with_the_gauge(pieces, pattern):
    """Process knowledge, section 1.5: the same piece, the master, fresh pieces, what changed, in this order."""
    reaction = after(pieces=pieces).reaction
    assert (reaction.first, reaction.pattern) == ("gauge", pattern)
    found = [
        next(place for place, step in enumerate(reaction.steps) if word in step)
        for word in ("same piece", "master", "fresh", "changed")
    ]
    assert found == sorted(found)
    assert "hands" not in reaction.cautions


def test_a_slip_of_the_fingers_is_compared_with_what_was_typed():
    reaction = after(pieces=["31.250", "312.51", "31.249", "31.250", "31.251"]).reaction
    assert reaction.pattern == "a value that is hard to believe"
    assert reaction.first_bad is None  # nothing is sorted before the piece was gauged again
    assert any("typed" in each for each in reaction.steps)


def test_a_copied_check_is_called_so():
    live = open_shop()
    running(live, 8)
    same = [f"{31.250 + each:.4f}" for each in (0.0, 0.0023, -0.0023, 0.0011, -0.0011)]
    live.check_in(check(9, counter=2700, pieces=same))
    again = live.check_in(check(10, counter=3000, pieces=same))
    assert again.reaction.pattern == "the same values again"
    assert again.reaction.cautions == ("gauging",)  # a piece is gauged again


def test_a_slide_setting_that_is_hard_to_believe():
    live = open_shop()
    running(live, 4)
    live.log(event(4.2, "penetration", "123.40"))
    verdict = live.check_in(check(5, counter=1500))
    assert verdict.reaction.pattern == "a logged slide setting that is hard to believe"
    assert verdict.reaction.steps == ("Read the panel of the slide.", "Log the setting again.")


def test_a_size_that_the_slide_does_not_set_points_to_what_sets_it():
    """Section 11: "do not print a direction, print 'check height against the set-up sheet'"."""
    live = open_shop(*BLADE)
    running(live, 8)
    out = {"bow": ["0.060", "0.055"]}
    verdict = live.check_in(check(9, counter=2700, values=out))
    said = " ".join((*verdict.reaction.steps, verdict.next_action))
    assert "blade" in said
    assert "set-up sheet" in said
    assert not re.search(r"higher|lower|raise|up the blade|down", said)


def test_held_pieces_of_a_step_are_halved_by_box():
    """A step shows while every piece is inside, then one is out: the middle of the stretch comes first."""
    live = open_shop()
    running(live, 8)
    live.check_in(check(9, 31.2615, 2700))
    hold = live.check_in(check(10, counter=3000, pieces=OUT))
    line = verdict_line(hold)["reaction"]["first_bad"]
    assert hold.contain.pieces == 600
    assert hold.reaction.first == "stop"  # the step still stands
    assert hold.correction is not None  # for afterwards: a ban as long as it stands would have no way out
    assert (line["by"], line["take_counter"], line["gaugings"]) == ("box", 2700, None)


def test_by_piece_where_the_plan_keeps_their_order():
    live = open_shop("[check]", "[check]\norder_kept = true")
    running(live, 8)
    live.check_in(check(9, 31.2615, 2700))
    hold = live.check_in(check(10, counter=3000, pieces=OUT))
    assert (hold.reaction.first_bad.by, hold.reaction.first_bad.gaugings) == ("piece", 10)


def test_a_slide_move_among_the_held_pieces_leaves_nothing_to_halve():
    """Section 6.1: "valid for steps/monotone drift only"; the move may have brought the size back in between."""
    live = open_shop()
    running(live, 8)
    live.check_in(check(9, 31.2615, 2700))
    live.log(event(9.5, "penetration", "12.342"))
    hold = live.check_in(check(10, counter=3000, pieces=OUT))
    assert hold.reaction.first_bad.by == "all"


def test_the_lists_read_at_arms_length():
    """No step is longer than a line; none names a person, a number code or a direction for the blade."""
    for key, pattern in PATTERNS.items():
        assert pattern.causes, key
        assert all(len(each) <= 105 for each in pattern.then), key
        assert all(len(each) <= 60 for each in pattern.causes), key


def test_the_same_check_gives_the_same_reaction():
    assert after(mean=31.2585).reaction == after(mean=31.2585).reaction


def test_a_size_that_the_slide_does_not_set_is_not_compared_with_the_slide():
    live = open_shop()
    running(live, 0)
    for hour in range(1, 13):
        bow = ["0.010", "0.012"] if hour % 2 else ["0.011", "0.009"]
        live.check_in(check(hour, counter=300 * hour, values={"bow": bow}))
    bent = live.check_in(check(13, 31.2585, counter=3900, values={"bow": ["0.040", "0.041"]}))
    said = {each.characteristic: each.says for each in bent.signals if each.kind == "beyond_limits"}
    assert "above what the checks before lead one to expect" in said["bow"]
    assert "above what the die's age and the slide lead one to expect" in said["over_pin"]
