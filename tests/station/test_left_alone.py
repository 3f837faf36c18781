"""Moves that are wanted and not advised: each says why (references: process.md, reaction plan 1.5)."""

from itertools import pairwise
from typing import Any

import pytest
from shaft import check, event, open_shop, running

from spc.shop import Verdict
from spc.station import Station

BOW = """[[characteristic]]
name = "bow"
"""
CREST = """[[characteristic]]
name = "crest"
kind = "crest_diameter"
unit = "mm"
nominal = 33.000
lower = 32.985
upper = 33.015
set_by = "penetration"
penetration_gain = -1.0
subgroup_size = 5
"""


def test_a_step_nobody_understands_is_not_hidden() -> None:
    live = open_shop()
    running(live, 30)
    verdict = live.check_in(check(31, 31.258, 9300))

    assert {each.kind for each in verdict.signals} == {"beyond_limits"}
    assert verdict.correction is None
    assert "moving the slide would hide it" in verdict.no_correction
    assert verdict.to_dict()["no_correction"] == verdict.no_correction


def test_a_find_on_the_dies_comes_before_any_move() -> None:
    live = open_shop()
    running(live, 5)
    verdict = live.check_in(check(6, 31.258, 1800, values={"look": ["chip mark"]}))

    assert verdict.correction is None
    assert "dies have to be looked at" in verdict.no_correction


def started_cold(mean: float) -> Verdict:
    """The first check of a set, 40 pieces after its mounting."""
    live = open_shop()
    running(live, 0)
    return live.check_in(check(1, mean, 40))


def test_a_cold_machine_is_waited_for() -> None:
    # Row 3: wait out warm-up; no correction in the first half hour unless outside acceptance limits.
    verdict = started_cold(31.2572)
    assert verdict.correction is None
    assert "warming up: 40 pieces since the start" in verdict.no_correction


def test_past_the_acceptance_limits_nobody_waits() -> None:
    verdict = started_cold(31.2640)  # 14 µm off, 4 µm from the limit; pieces differ by 2 µm
    assert verdict.correction is not None
    assert verdict.no_correction == ""


def grown(live: Station, until: int, faster_from: int = 99) -> list[Verdict]:
    """A size that grows 0.9 µm an hour, later three times that, under a slide that follows the advice."""
    said, slide = [], 12.340
    for hour in range(1, until + 1):
        off = 0.9 * (hour + 2 * max(hour - faster_from, 0)) - 0.8 * (slide - 12.340) * 1000.0
        said.append(live.check_in(check(hour, 31.250 + off / 1000.0, 300 * hour)))
        found = said[-1].correction
        if found is not None and said[-1].verdict == "correct":
            slide = float(found.to_mm)
            live.log(event(hour + 0.1, "penetration", str(found.to_mm)))
    return said


def test_past_the_allowed_travel_the_slide_stays() -> None:
    live = open_shop("correction_travel = 0.060", "correction_travel = 0.012")
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    said = grown(live, 24)

    used = [float(each.die_life.correction_used_mm or 0) for each in said if each.die_life is not None]
    assert max(used) == pytest.approx(0.012)  # the last move goes as deep as is allowed, and no further
    assert any("past the infeed the dies may have: 12 of 12 µm" in each.no_correction for each in said)


def test_a_used_up_infeed_is_not_called_nearly_used_up() -> None:
    live = open_shop("correction_travel = 0.060", "correction_travel = 0.012")
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for each in grown(live, 32):
        infeed_only = {said.kind for said in each.signals} == {"travel_used"}
        if infeed_only and each.verdict == "watch" and each.die_life is not None:
            is_up = float(each.die_life.correction_used_mm or 0) >= 0.012
            assert ("the infeed is used up" in each.next_action) == is_up
            assert ("nearly used up" in each.next_action) != is_up
    assert each.verdict == "hold"
    assert each.next_action.endswith("Once confirmed, change the dies: the infeed is used up.")


def test_a_growth_that_has_jumped_is_not_hidden_by_a_move() -> None:
    # Row 2: "stop at next safe point, lock out, inspect dies; … do not just correct". Three times the growth.
    hidden = 0
    for faster_from in range(20, 28):  # in some of these the check that tells of it would want a move as well
        live = open_shop()
        live.log(event(0, "die_set_mounted", "D-1"))
        live.log(event(0, "penetration", "12.340"))
        said = grown(live, 34, faster_from)
        for each, after in pairwise(said):
            jumped = "growth has jumped" in each.no_correction
            hidden += jumped
            assert not jumped or each.verdict == "watch"
            assert not jumped or each.next_action.startswith("Stop, no further piece")
            stops = each.reaction is not None and each.reaction.first == "stop"
            assert not (each.verdict == "correct" and stops)
            assert (
                not jumped or after.verdict == "correct"
            )  # told once; who has looked at the dies may move on
    assert hidden > 0


def test_the_move_starts_on_the_side_that_growth_comes_from() -> None:
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    moves = [each.correction for each in grown(live, 40) if each.correction is not None]

    assert len(moves) >= 3
    assert all(dict(each.lands_at)["over_pin"] < 31.250 for each in moves[1:])
    assert all(dict(each.lands_at)["over_pin"] > 31.245 for each in moves[1:])


def two_sizes(pin: float, crest: float) -> Verdict:
    """Both sizes drift away from targets that one slide cannot serve together."""
    live = open_shop(BOW, CREST + BOW)
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 13):
        share = min(hour / 10.0, 1.0)
        pattern = (0.0, 0.002, -0.002, 0.001, -0.001)
        values: dict[str, Any] = {"crest": [f"{33.0 + (crest * share + each):.4f}" for each in pattern]}
        verdict = live.check_in(check(hour, 31.250 + pin * share, 300 * hour, values=values))
    return verdict


def test_no_setting_serves_all() -> None:
    # The size wants the dies nearer, the crest wants them less near: deeper would drive the crest out.
    verdict = two_sizes(0.0145, 0.0115)
    clash = [each for each in verdict.signals if "no slide setting serves all" in each.says]

    assert verdict.verdict == "hold"
    assert verdict.correction is None
    assert [each.kind for each in clash] == ["out_of_tolerance"]
    assert "µm deeper" in clash[0].says
    assert "µm shallower; the dies no longer match" in clash[0].says
    assert verdict.reaction is not None
    assert verdict.reaction.pattern == "no slide setting serves all sizes"
    assert verdict.reaction.steps[-1].startswith("Leave the slide.")


def test_a_setting_that_serves_all_is_looked_for() -> None:
    verdict = two_sizes(0.004, 0.004)
    assert not any("no slide setting" in each.says for each in verdict.signals)
    assert verdict.verdict != "hold"


def test_an_outward_move_is_approached_from_the_shallow_side() -> None:
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    said = [live.check_in(check(hour, 31.242, 300 * hour)) for hour in range(1, 8)]
    moves = [each for each in said if each.verdict == "correct"]

    assert moves
    assert moves[0].correction is not None
    assert moves[0].correction.penetration_mm < 0
    assert "bring it in from the shallow side" in moves[0].next_action
