"""Events without a counter: "interpolated in running time between the checks around it" (contract section 2)."""

import pytest
from shaft import check, event, open_shop, running

from spc.station.refold import present_state


def machine(live):
    with live.store.reading() as shelf:
        return present_state(shelf, "T-9").machine("M1")


@pytest.mark.parametrize(
    ("hour", "counter"),
    [(4.0, 1200), (4.5, 1350), (4.75, 1425)],  # 300 pieces in the one hour that it ran
)
def test_a_stop_lies_between_the_checks_around_it(hour, counter):
    """The machine ran from 4 to 5.5 but for 30 minutes; 300 pieces were made in that hour."""
    live = open_shop()
    running(live, 4)
    live.log(event(hour, "machine_stopped", "30"))
    live.check_in(check(5.5, counter=1500))
    assert machine(live).started_at == counter


def test_the_pace_of_the_coming_interval_counts_not_the_one_before():
    """600 pieces in the hour after, where 300 were made in each before."""
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "machine_stopped", "20"))
    live.check_in(check(5 + 1 / 3, counter=1800))
    assert machine(live).started_at == 1500


def test_a_logged_counter_stays():
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "machine_stopped", "30", counter=1290))
    live.check_in(check(5.5, counter=1500))
    assert machine(live).started_at == 1290


def test_a_stop_before_the_first_check_of_a_mounting_counts_from_the_mounting():
    live = open_shop()
    live.log(event(0, "die_set_mounted", "D-1"))
    live.log(event(1, "machine_stopped", "60"))
    live.check_in(check(3, counter=400))  # one hour before the stop, one after it
    assert machine(live).started_at == 200


def test_an_event_during_a_stop_lies_where_the_stop_began():
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "machine_stopped", "30"))
    live.log(event(4.7, "penetration", "12.342"))
    live.check_in(check(5.5, counter=1500))
    assert machine(live).moved_at == 1350


def test_without_a_counter_at_the_check_the_pace_says_it():
    live = open_shop()
    running(live, 4)
    live.log(event(4.5, "machine_stopped", "30"))
    live.check_in(check(5.5))
    assert machine(live).started_at == 1350
