"""Verdicts as section 5 of the contract words them."""

from decimal import Decimal

import pytest
from shaft import at, check, event, open_shop, running

from spc.errors import Refused
from spc.station import verdict_line


def kinds(verdict) -> set[str]:
    return {each.kind for each in verdict.signals}


def test_a_quiet_check_runs_on_without_signals():
    live = open_shop()
    running(live, 5)
    verdict = live.check_in(check(6, 31.250, 1800))

    assert verdict.verdict == "run"
    assert verdict.signals == ()
    assert verdict.contain is None
    assert verdict.correction is None


def test_a_piece_on_the_limit_is_inside_and_one_past_it_is_not():
    live = open_shop()
    running(live, 3)
    on = live.check_in(check(4, counter=1200, pieces=["31.268", "31.250", "31.249", "31.250", "31.251"]))
    past = live.check_in(check(5, counter=1500, pieces=["31.2681", "31.250", "31.249", "31.250", "31.251"]))

    assert "out_of_tolerance" not in kinds(on)
    assert past.verdict == "hold"
    assert "out_of_tolerance" in kinds(past)


def test_hold_contains_what_was_made_after_the_last_good_check():
    live = open_shop()
    running(live, 3)
    verdict = live.check_in(check(4, counter=1200, pieces=["31.290", "31.291", "31.289", "31.290", "31.290"]))

    assert verdict_line(verdict)["contain"] == {"from_counter": 900, "to_counter": 1200, "pieces": 300}


def test_the_first_check_of_a_mounting_contains_from_the_mounting_on():
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    verdict = live.check_in(check(1, 31.290, 280))

    assert verdict_line(verdict)["contain"] == {"from_counter": 0, "to_counter": 280, "pieces": 280}


def test_a_hold_that_goes_on_contains_from_the_same_good_check():
    live = open_shop()
    running(live, 3)
    live.check_in(check(4, 31.290, 1200))
    verdict = live.check_in(check(5, 31.290, 1500))

    assert verdict_line(verdict)["contain"] == {"from_counter": 900, "to_counter": 1500, "pieces": 600}
    since = {each.kind: each.since for each in verdict.signals}["out_of_tolerance"]
    assert verdict.time > since


def test_a_visual_find_stops_and_holds():
    live = open_shop()
    running(live, 3)
    verdict = live.check_in(check(4, 31.250, 1200, values={"look": ["ok", "flakes"]}))

    assert verdict.verdict == "hold"
    assert "flakes on piece 2" in [each.says for each in verdict.signals]
    assert verdict.next_action.startswith("Stop, no further piece")


def test_without_a_counter_life_and_counts_are_null():
    live = open_shop()
    live.check_in(check(1))
    verdict = live.check_in(check(2, 31.290))

    line = verdict_line(verdict)
    assert line["counter"] is None
    assert line["age"] is None
    assert line["die_life"] is None
    assert line["die_set"] is None
    assert line["contain"] == {"from_counter": None, "to_counter": None, "pieces": None}


def test_growth_ends_in_advice_in_whole_steps_of_the_slide():
    live = open_shop()
    running(live, 2)
    words = []
    for hour in range(3, 30):
        verdict = live.check_in(check(hour, 31.250 + 0.0004 * hour, 300 * hour))
        words.append(verdict.verdict)
        if verdict.correction is not None:
            break

    correction = verdict.correction
    assert verdict.verdict == "correct"
    assert correction.from_mm == Decimal("12.340")
    assert correction.to_mm - correction.from_mm == correction.penetration_mm
    assert 0 < correction.penetration_mm <= Decimal("0.010")
    assert correction.penetration_mm % Decimal("0.001") == 0
    landing = dict(correction.lands_at)["over_pin"]
    expected = verdict.subgroup("over_pin").mean - 0.8 * float(correction.penetration_mm)
    assert landing == pytest.approx(expected, abs=0.002)
    assert "deeper" in verdict.next_action


def test_advice_is_said_in_the_machines_own_display_sense():
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1", machine="M2"))
    live.log(event(0, "penetration", "12.340", machine="M2"))
    for hour in range(1, 30):
        verdict = live.check_in(check(hour, 31.250 + 0.0006 * hour, 300 * hour, machine="M2"))
        if verdict.correction is not None:
            break

    assert verdict.correction.penetration_mm % Decimal("0.005") == 0
    assert verdict.correction.to_mm > verdict.correction.from_mm
    assert f"-12.340 → -{verdict.correction.to_mm}" in verdict.next_action


def test_size_at_the_reference_setting_takes_the_slide_moves_out():
    live = open_shop()
    running(live, 3)
    live.log(event(3.1, "penetration", "12.350"))
    verdict = live.check_in(check(4, 31.242, 1200))

    gain = verdict.die_life.gain
    assert verdict.subgroup("over_pin").mean_at_reference_setting == pytest.approx(
        31.242 + 0.010 * gain, abs=1e-6
    )
    assert verdict.die_life.correction_used_mm == pytest.approx(0.010)
    assert verdict.die_life.correction_travel_mm == pytest.approx(0.060)


def test_without_a_setting_the_size_at_the_reference_is_left_out():
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    line = verdict_line(live.check_in(check(1, counter=300)))

    assert "mean_at_reference_setting" not in line["subgroups"]["over_pin"]
    assert "correction_used_mm" not in line["die_life"]


def test_quantiles_of_the_pieces_left_are_in_order():
    live = open_shop()
    running(live, 8)
    left = live.check_in(check(9, 31.250, 2700)).die_life.pieces_left

    assert left.p05 < left.p25 < left.p50 < left.p75 < left.p95


def test_a_change_with_a_new_bar_batch_is_explained_and_raises_nothing():
    live = open_shop()
    running(live, 8)
    live.log(event(8.2, "blank_batch", "B-19"))
    verdict = live.check_in(check(9, 31.2535, 2700))

    assert [each.cause for each in verdict.explained] == ["batch"]
    assert "B-19" in verdict.explained[0].says
    assert "3.5 µm up" in verdict.explained[0].says or "µm up" in verdict.explained[0].says
    assert "beyond_limits" not in kinds(verdict)


def test_the_same_change_without_an_event_is_a_signal():
    live = open_shop()
    running(live, 8)
    verdict = live.check_in(check(9, 31.256, 2700))

    assert "beyond_limits" in kinds(verdict)
    assert verdict.explained == ()
    assert verdict.correction is None  # a move would hide what nobody understands yet


def test_a_slip_of_the_decimal_mark_holds_and_asks_to_gauge_again():
    live = open_shop()
    running(live, 4)
    before = live.check_in(check(5, 31.250, 1500))
    slip = live.check_in(check(6, counter=1800, pieces=["31.250", "312.51", "31.249", "31.250", "31.251"]))
    after = live.check_in(check(7, 31.250, 2100))

    assert slip.verdict == "hold"
    assert {"suspect_entry", "out_of_tolerance"} <= kinds(slip)
    assert slip.next_action.startswith("Gauge the same piece again")
    assert after.verdict == "run"
    rate = (before.die_life.wear_um_per_1000.estimate, after.die_life.wear_um_per_1000.estimate)
    assert abs(rate[0] - rate[1]) < 1.0  # the slip taught the model nothing


def test_a_counter_that_falls_without_a_mounting_is_marked():
    live = open_shop()
    running(live, 4)
    verdict = live.check_in(check(5, 31.250, 700))

    assert "suspect_entry" in kinds(verdict)
    assert "from 1200 to 700" in verdict.signals[0].says


def test_a_copied_check_is_marked():
    live = open_shop()
    running(live, 4)
    same = [f"{31.2533 + each:.4f}" for each in (0.0, 0.0011, -0.0007, 0.0002, -0.0013)]
    live.check_in(check(5, counter=1500, pieces=same))
    verdict = live.check_in(check(6, counter=1800, pieces=same))

    assert "suspect_entry" in kinds(verdict)


def test_provisional_limits_stand_after_twenty_good_subgroups():
    live = open_shop()
    for hour in range(1, 22):
        values = {"bow": [f"{0.020 + 0.001 * (hour % 3):.3f}", "0.022"]}
        verdict = live.check_in(check(hour, values=values))
        standing = verdict.subgroup("bow").standing
        assert standing == ("" if hour <= 20 else "provisional")


def test_a_later_result_completes_its_check_and_another_value_is_refused():
    live = open_shop()
    running(live, 3)
    first = live.check_in(check(4, 31.250, 1200))
    later = live.check_in(
        {"time": at(4), "machine": "M1", "part": "T-9", "values": {"bow": ["0.020", "0.021"]}}
    )
    again = live.check_in(check(4, 31.250, 1200))

    assert later.check_id == first.check_id == again.check_id
    assert {name for name, _ in again.subgroups} == {"over_pin", "bow"}
    with pytest.raises(Refused, match="already taken with another value"):
        live.check_in(check(4, 31.251, 1200))


def test_a_step_of_all_pieces_is_no_slip_of_the_fingers():
    """31.2590 would fit as 31.2509 with two digits swapped, but the other pieces have moved as well."""
    live = open_shop()
    running(live, 8)
    pieces = ["31.2581", "31.2590", "31.2585", "31.2595", "31.2588"]
    verdict = live.check_in(check(9, counter=2700, pieces=pieces))

    assert "suspect_entry" not in kinds(verdict)
    assert "beyond_limits" in kinds(verdict)


def test_a_mean_so_near_the_limit_that_pieces_must_be_outside_holds():
    """All five pieces are inside, 31.268 at most; the model does not believe that all 300 were."""
    live = open_shop()
    running(live, 3, mean=31.258)
    verdict = live.check_in(check(4, 31.2655, 1200))

    assert verdict.verdict == "hold"
    assert any("of those since the last good check" in each.says for each in verdict.signals)
    assert verdict.contain.pieces == 300


def test_without_an_allowed_travel_the_size_itself_ends_the_set():
    live = open_shop("[die_set]\ncorrection_travel = 0.060\n", "")
    running(live, 6)
    life = live.check_in(check(7, 31.250, 2100)).die_life

    assert life.limited_by == "over_pin"
    assert life.limit in ("upper", "lower")
    assert life.correction_travel_mm is None
