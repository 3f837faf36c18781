"""What changed, beside what was logged: a start from cold, a gauge hardly off, a changed dwell (process.md 1.5)."""

from shaft import at, check, event, open_shop, running


def first_causes(verdict, kind):
    return [each.explanations[0].cause for each in verdict.signals if each.kind == kind]


def monday(mean):
    """Twenty quiet checks, a weekend, the gauge set on its master, and the first check thirty pieces later."""
    live = open_shop()
    running(live, 20)
    live.log(event(20.5, "machine_stopped", "2880", counter=6150))
    live.log(event(69, "gauge_mastered", "-0.4", note="over_pin"))
    return live, live.check_in(check(69.1, mean, 6180))


def test_a_cold_start_is_told_as_one_and_not_as_the_gauge_that_was_hardly_off():
    """Row 4 of process.md 1.5: a decaying curve after a start or a stop above 30 minutes is thermal growth."""
    live, cold = monday(31.258)

    assert first_causes(cold, "beyond_limits") == ["warm_up"]
    by_itself = live.check_in(check(70, 31.2515, 6400))
    assert by_itself.verdict == "run"
    assert not by_itself.signals


def test_one_odd_start_says_nothing_of_the_next_one():
    live, _ = monday(31.258)
    for hour in range(70, 80):
        live.check_in(check(hour, 31.250, 6400 + 300 * (hour - 70)))
    live.log(event(80.5, "machine_stopped", "600", counter=9400))
    usual = live.check_in(check(91, 31.2505, 9420))

    assert usual.verdict == "run"
    assert not usual.signals


def test_a_spread_that_grows_from_a_changed_dwell_on_names_the_dwell():
    """Row 7 of process.md 1.5: spread up, the mean unchanged: dwell too short among its causes."""
    live = open_shop()
    running(live, 20)
    live.log(event(20.2, "setting", "0.7", note="dwell_s"))
    wide = ["31.2500", "31.2562", "31.2438", "31.2541", "31.2459"]  # three times the scatter before
    for hour in range(21, 25):
        verdict = live.check_in(check(hour, counter=300 * hour, pieces=wide[hour % 5 :] + wide[: hour % 5]))
        if any(each.kind == "spread" for each in verdict.signals):
            break
    told = next(each for each in verdict.signals if each.kind == "spread")
    assert told.explanations[0].cause == "setting"
    assert f"dwell set to 0.7 s, {at(20.2)[11:16]}" in told.explanations[0].says
    assert told.explanations[1].cause == "spread"
