"""What a logged event wholly explains, and what it does not: contract section 5."""

import pytest
from shaft import check, event, open_shop, running


def kinds(verdict):
    return {each.kind for each in verdict.signals}


def after(happened, mean, *, counted=True, checks=8):
    live = open_shop()
    if counted:
        running(live, checks)
    else:
        for hour in range(1, 24):
            live.check_in(check(hour))
        checks = 23
    live.log({**happened, "time": event(checks + 0.2, "note")["time"]})
    return live.check_in(check(checks + 1, mean, 300 * (checks + 1) if counted else None))


BATCH = event(0, "blank_batch", "B-19")
GAUGE_OFF_5 = event(0, "gauge_mastered", "5.0", note="over_pin")
DWELL = event(0, "setting", "1.4", note="dwell_s")


@pytest.mark.parametrize("counted", [True, False])
@pytest.mark.parametrize(
    ("happened", "mean", "cause"),
    [(BATCH, 31.2535, "batch"), (GAUGE_OFF_5, 31.2450, "gauge_zero"), (DWELL, 31.2535, "setting")],
)
def test_what_a_logged_event_wholly_explains_stands_in_explained(happened, mean, cause, counted):
    """Section 5: "What a logged event wholly explains stands in `explained`, not in `signals`"."""
    verdict = after(happened, mean, counted=counted)

    assert [each.cause for each in verdict.explained] == [cause]
    assert "beyond_limits" not in kinds(verdict)


@pytest.mark.parametrize("counted", [True, False])
@pytest.mark.parametrize(
    ("happened", "mean"),
    [
        (BATCH, 31.2640),  # 14 µm of 36: no bar batch does that
        (GAUGE_OFF_5, 31.2370),  # 13 µm down, of which the gauge explains 5
        (GAUGE_OFF_5, 31.2580),  # up, where the gauge explains down
        (event(0, "gauge_mastered", "0.2", note="over_pin"), 31.2570),
        (DWELL, 31.2640),
    ],
)
def test_a_change_far_beyond_what_the_event_can_do_stays_a_signal(happened, mean, counted):
    """Section 5: "*wholly* explains": the rest of a change that is too large is a signal."""
    verdict = after(happened, mean, counted=counted)

    assert verdict.explained == ()
    assert "beyond_limits" in kinds(verdict)


def test_an_event_about_another_characteristic_explains_nothing():
    verdict = after(event(0, "gauge_mastered", "-7.0", note="bow"), 31.2570)

    assert verdict.explained == ()
    assert "beyond_limits" in kinds(verdict)


def test_of_two_events_the_one_that_fits_explains():
    """A new bar batch and, later, a gauge found good: the batch explains the change."""
    live = open_shop()
    running(live, 8)
    live.log(event(8.2, "blank_batch", "B-19"))
    live.log(event(8.4, "gauge_mastered", "0.1", note="over_pin"))
    verdict = live.check_in(check(9, 31.2535, 2700))

    assert [each.cause for each in verdict.explained] == ["batch"]
