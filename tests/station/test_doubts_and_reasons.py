"""What is kept out of the model until somebody stands for it, and why an adjustment is asked for."""

import pytest
from shaft import check, event, open_shop, running

from spc.station.wording import why_adjust

LEAD = """
[[characteristic]]
name = "lead_error"
kind = "lead_deviation"
unit = "mm"
nominal = 0.0
lower = -0.014
upper = 0.014
"""


def kinds(verdict) -> set[str]:
    return {each.kind for each in verdict.signals}


def test_a_slip_in_the_slide_setting_is_kept_out_until_it_is_logged_again():
    live = open_shop()
    running(live, 5)
    live.log(event(5.2, "penetration", "123.42"))
    slip = live.check_in(check(6, 31.250, 1800))
    live.log(event(6.2, "penetration", "12.342"))
    mended = live.check_in(check(7, 31.250, 2100))

    assert "suspect_entry" in kinds(slip)
    assert "logged at 123.42" in slip.signals[0].says
    assert slip.next_action.startswith("Look at the slide's panel")
    assert slip.correction is None
    assert mended.verdict == "run"
    assert mended.die_life.correction_used_mm == pytest.approx(0.002)


def test_a_deviation_is_said_as_it_was_gauged():
    """A nominal of 0.0 has fewer decimals than its limits: −0.0145 is no "−0.014, 0.5 µm beyond −0.014"."""
    live = open_shop('[[characteristic]]\nname = "look"', LEAD + '[[characteristic]]\nname = "look"')
    live.log(event(0, "die_set_mounted", "D-1"))
    verdict = live.check_in(check(1, 31.250, 300, values={"lead_error": ["-0.0145"]}))
    says = [each.says for each in verdict.signals if each.kind == "out_of_tolerance"]
    assert says == ["1 of 1 pieces out of tolerance; piece 1 is -0.0145, 0.5 µm beyond -0.014"]


def test_one_odd_piece_teaches_the_model_nothing():
    live = open_shop()
    running(live, 12)
    before = live.check_in(check(13, 31.250, 3900))
    pieces = ["31.2502", "31.2511", "31.2493", "31.4500", "31.2505"]
    odd = live.check_in(check(14, counter=4200, pieces=pieces))

    assert {"out_of_tolerance"} <= kinds(odd)
    rates = [each.die_life.wear_um_per_1000.estimate for each in (before, odd)]
    assert abs(rates[0] - rates[1]) < 0.3
    assert odd.die_life.pieces_left.p50 > 0.5 * before.die_life.pieces_left.p50


def test_the_why_of_an_adjustment_names_mean_and_aim():
    live = open_shop()
    running(live, 2)
    for hour in range(3, 30):
        verdict = live.check_in(check(hour, 31.250 + 0.0004 * hour, 300 * hour))
        if verdict.correction is not None:
            break
    plan = live.plans()[0]
    mean = verdict.subgroup("over_pin").mean

    assert why_adjust(verdict, plan).startswith(f"over pins: the mean of 5 is {mean:.3f} mm, ")
    assert "above the aim 31.25" in why_adjust(verdict, plan)
    assert live.verdict(verdict.check_id) == verdict
    live.annul(verdict.check_id, "the wrong master")
    assert live.verdict(verdict.check_id) is None
