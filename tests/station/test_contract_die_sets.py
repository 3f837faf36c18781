"""Ages and mountings in odd orders: contract sections 0 and 2."""

from datetime import timedelta

from shaft import PLAN, START, check, event, open_shop, running

from spc.station.refold import present_state


def finished(live):
    with live.store.reading() as shelf:
        return {each.die_set: each for each in present_state(shelf, "T-9").finished}


def test_a_set_that_goes_over_to_another_machine_keeps_its_age():
    """Section 0: "age: pieces of the set since new or reground, summed over its mountings".

    Nobody logged that it came off the first machine; what is mounted there later leaves its age alone.
    """
    live = open_shop()
    running(live, 4)
    live.log(event(5, "die_set_mounted", "D-1", machine="M2"))
    first = live.check_in(check(6, counter=200, machine="M2"))
    live.log(event(6.5, "die_set_mounted", "D-2"))
    live.check_in(check(7, counter=250))
    second = live.check_in(check(8, counter=500, machine="M2"))

    assert (first.die_set, first.age) == ("D-1", 1400)
    assert (second.die_set, second.age) == ("D-1", 1700)


def test_a_set_reground_on_the_machine_counts_from_the_events_own_counter():
    """Section 2: `die_set_reground`: "wear and age start anew"; `counter` says at which piece."""
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "die_set_reground", "D-1", counter=1350))
    verdict = live.check_in(check(5, counter=1500))

    assert verdict.age == 150


def test_the_reference_is_the_setting_at_the_first_check_of_a_new_or_reground_set():
    """Section 0: "reference setting: the slide setting at the first check of a die set (new or reground)"."""
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0.1, "penetration", "12.300"))
    live.log(event(0.2, "penetration", "12.340"))
    live.check_in(check(1, counter=300))
    live.log(event(1.2, "penetration", "12.344"))
    moved = live.check_in(check(2, 31.247, 600))
    live.log(event(2.2, "die_set_reground", "D-1"))
    anew = live.check_in(check(3, 31.247, 900))

    assert moved.die_life.correction_used_mm == 0.004
    assert anew.die_life.correction_used_mm == 0.0


def test_at_one_minute_removed_mounted_reground_batch_check_then_the_slide():
    """Section 4: "at equal time removed, mounted, reground, batch, mastered, stopped, the check, then …".

    Here they come in in the reverse order.
    """
    live = open_shop()
    running(live, 3)
    verdict = live.check_in(check(4, counter=20))
    live.log(event(4, "penetration", "12.390"))
    live.log(event(4, "die_set_reground", "D-2"))
    live.log(event(4, "die_set_mounted", "D-2"))
    live.log(event(4, "die_set_removed", "worn"))
    again = live.check_in(check(4, counter=20))

    assert verdict.die_set == "D-1"
    assert (again.die_set, again.age) == ("D-2", 20)
    assert again.die_life.correction_used_mm == 0.0
    assert finished(live)["D-1"].age_pieces == 900


def test_only_sets_that_ended_before_teach():
    """Section 4: "Only die sets that ended before a moment teach that moment"."""
    live = open_shop()
    alone = open_shop()
    for shop in (live, alone):
        running(shop, 12)
    live.log(event(20, "die_set_removed", "worn", counter=4000))
    live.log(event(21, "die_set_mounted", "D-2"))
    live.check_in(check(22, counter=300))
    late = {"time": check(5.5)["time"], "machine": "M1", "part": "T-9", "counter": 1650}
    first = live.check_in({**check(5.5, counter=1650), **late})
    second = alone.check_in({**check(5.5, counter=1650), **late})

    assert first.die_life == second.die_life


def test_limits_signed_for_what_a_plan_no_longer_has_fall_silent():
    """A plan in force from before the signing, taken in afterwards, has no such characteristic."""
    live = open_shop()
    for hour in range(1, 22):
        live.check_in(check(hour, values={"bow": [f"{0.020 + 0.001 * (hour % 3):.3f}", "0.022"]}))
    live.sign_limits("T-9", "M1", "bow", "A. Hand", at=START + timedelta(hours=22))
    live.take_plan(PLAN.replace('name = "bow"', 'name = "bend"'), at=START + timedelta(hours=0.5))

    assert live.check_in(check(23)).verdict == "run"


def test_a_size_that_the_new_plan_sets_by_the_slide_is_advised_on():
    """Section 3: `set_by`: from the new plan on the slide moves it, and its gain is the plan's."""
    before = PLAN.replace('set_by = "penetration"\npenetration_gain = 0.80\n', "")
    live = open_shop()
    live.take_plan(before, at=START - timedelta(hours=5))
    running(live, 3)
    live.take_plan(PLAN + "\n", at=START + timedelta(hours=3.5))
    for hour in range(4, 10):
        verdict = live.check_in(check(hour, 31.2585, 300 * hour))
        if verdict.correction is not None:
            break

    assert verdict.correction is not None


def test_a_removal_logged_later_still_reports_the_pieces_in_doubt():
    """Section 5: "Pieces after the last check of a set removed in doubt are reported at the removal"."""
    live = open_shop()
    running(live, 3)
    live.check_in(check(4, 31.290, 1200))
    live.log(event(5, "die_set_mounted", "D-2"))
    live.check_in(check(6, counter=300))
    logged = live.log(event(4.4, "die_set_removed", "worn", counter=1320))
    none = live.log(event(7, "die_set_removed", "planned", counter=600))

    assert (logged.held.from_counter, logged.held.to_counter, logged.held.pieces) == (1200, 1320, 120)
    assert none.held is None
