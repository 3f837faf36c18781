"""Die sets that go on, come off, return and are reground; and events that name no part."""

from known_shop import KnownShop
from shaft import PLAN, at, check, event, open_shop, running

from spc.station.kept import text_of


def test_age_is_summed_over_mountings():
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "die_set_removed", "part_change", counter=1300))
    live.log(event(5, "die_set_mounted", "D-1"))
    verdict = live.check_in(check(6, 31.250, 200))

    assert verdict.die_set == "D-1"
    assert verdict.counter == 200
    assert verdict.age == 1500


def test_a_set_that_returns_keeps_its_growth_with_an_unknown_slide_zero():
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(0, "penetration", "12.340"))
    for hour in range(1, 11):
        before = live.check_in(check(hour, 31.246 + 0.0006 * hour, 300 * hour))
    live.log(event(10.5, "die_set_removed", "part_change"))
    live.log(event(11, "die_set_mounted", "D-1"))
    live.log(event(11, "penetration", "12.520"))
    after = live.check_in(check(12, 31.251, 100))

    low, high = before.die_life.wear_um_per_1000.low90, before.die_life.wear_um_per_1000.high90
    assert low <= after.die_life.wear_um_per_1000.estimate <= high
    assert after.die_life.correction_used_mm == 0.0  # the jump of the display is no slide move
    assert "beyond_limits" not in {each.kind for each in after.signals}


def test_a_reground_set_starts_anew():
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "die_set_removed", "worn"))
    live.log(event(5, "die_set_mounted", "D-1"))
    live.log(event(5, "die_set_reground", "D-1"))
    verdict = live.check_in(check(6, 31.250, 250))

    assert verdict.age == 250


def test_a_counter_set_back_after_a_regrind_on_the_machine_makes_no_set_younger_than_new():
    """The bars of the check decide how far the size may wander until the next: counted over pieces, none below 0."""
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "die_set_reground", "D-1", counter=1200))
    live.check_in(check(5, 31.250, 1500))
    live.log(event(5.5, "blank_batch", "B-2"))
    ages = [
        live.check_in(check(6 + hour, 31.250, counter)).age for hour, counter in enumerate([300, 600, 900])
    ]

    assert ages == [
        600,
        900,
        1200,
    ]  # one entry in doubt, as the pace has it; 300 before the setting back, and those since


def test_a_set_that_came_off_keeps_no_checks_of_its_mounting():
    from spc.station.refold import present_state

    live = open_shop()
    running(live, 12)
    live.log(event(12.5, "die_set_removed", "planned"))
    with live.store.reading() as shelf:
        memory = present_state(shelf, "T-9").die_sets["D-1"].memories["over_pin"]

    assert (memory.levels, memory.recent.ages, memory.batch_step) == ((), (), None)
    assert memory.moves.counts[0] > 0
    assert memory.way is not None


def test_sets_that_came_off_long_ago_leave_little_more_than_their_age():
    """A set a week for years: what is kept of them must not make every check of a shop slower year by year."""
    shop = KnownShop(3)
    sizes = {}
    for number in range(2, 60):
        shop.hours(2)
        shop.log("die_set_removed", "part_change" if number == 3 else "worn", minutes=1)
        shop.log("die_set_mounted", f"D-{number}", minutes=2)
        shop.counter = 0
        sizes[number] = len(text_of(shop.state))
    kept = shop.state.die_sets

    assert (sizes[59] - sizes[46]) / 13 < 300  # bytes a set
    assert not kept["D-1"].beliefs
    assert kept["D-1"].age_pieces == 600
    assert kept["D-2"].beliefs  # came off for another part only: it may be back any day
    assert kept["D-58"].beliefs
    shop.log("die_set_mounted", "D-1", minutes=3)
    (back,) = shop.hours(1)
    assert back.age == 900


def test_the_end_of_a_worn_set_came_between_its_last_two_checks():
    """It is taken in the middle between them; put at the last, every later forecast would be late by as much."""
    from spc.station.refold import present_state

    live = open_shop()
    running(live, 12)
    live.log(event(12.5, "die_set_removed", "worn"))
    with live.store.reading() as shelf:
        (finished,) = present_state(shelf, "T-9").finished

    assert dict(finished.ways)["over_pin"].life_pieces == 11.5 * 300


def test_only_worn_and_chipped_end_a_life():
    from spc.station.refold import present_state

    live = open_shop()
    reasons = ["worn", "chipped", "planned", "other", "part_change"]
    for place, reason in enumerate(reasons):
        hour = 10 * place
        live.log(event(hour, "die_set_mounted", f"D-{place}"))
        live.check_in(check(hour + 1, 31.250, 300))
        live.log(event(hour + 2, "die_set_removed", reason, counter=600))
    with live.store.reading() as shelf:
        finished = present_state(shelf, "T-9").finished

    assert {each.reason: each.ended for each in finished} == {
        "worn": True,
        "chipped": True,
        "planned": False,
        "other": False,
    }
    assert {each.age_pieces for each in finished} == {600}


def test_pieces_after_the_last_check_of_a_set_removed_in_doubt_are_reported():
    live = open_shop()
    running(live, 3)
    live.check_in(check(4, 31.290, 1200))
    logged = live.log(event(4.4, "die_set_removed", "worn", counter=1320))

    assert (logged.held.from_counter, logged.held.to_counter, logged.held.pieces) == (1200, 1320, 120)


def test_a_machine_event_without_a_part_reaches_every_part_on_the_machine():
    live = open_shop()
    live.take_plan(PLAN.replace('id = "T-9"', 'id = "T-10"'))
    live.log(event(0, "die_set_mounted", "D-7", part=""))
    first = live.check_in(check(1, counter=300))
    second = live.check_in({**check(2, counter=600), "part": "T-10"})

    assert first.die_set == second.die_set == "D-7"


def test_the_same_event_twice_is_one_event():
    live = open_shop()
    assert live.log(event(0, "die_set_mounted", "D-1")).new
    assert not live.log(event(0, "die_set_mounted", "D-1")).new


def test_a_late_mounting_judges_the_checks_behind_it_again():
    live = open_shop()
    unnamed = live.check_in(check(1, counter=300))
    live.log({**event(0, "die_set_mounted", "D-1"), "time": at(0)})
    with live.store.reading() as shelf:
        kept = shelf.verdicts("T-9", superseded=True)

    assert unnamed.die_set is None
    assert [each.superseded_at is None for each in kept] == [False, True]
