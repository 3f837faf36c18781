"""Which events reach which stream: contract section 0, live and replayed."""

from datetime import timedelta

import pytest
from shaft import PLAN, START, check, event, open_shop

from spc.intake import read_check, read_event, read_plan
from spc.station import open_station, replay, verdict_line
from spc.station.kept import verdict_of

NO_MACHINES = PLAN.split("[[machine]]")[0] + "[die_set]" + PLAN.split("[die_set]")[1]


def lines_of(live, part="T-9"):
    with live.store.reading() as shelf:
        lines = [verdict_line(verdict_of(each)) for each in shelf.verdicts(part)]
    return [{key: value for key, value in line.items() if key != "check_id"} for line in lines]


def replayed(text, checks, events):
    plan = read_plan(text)
    verdicts = replay(
        [plan], [read_check(each, plan) for each in checks], [read_event(each, plan) for each in events]
    )
    return [verdict_line(each) for each in verdicts]


def station(text):
    live = open_station(":memory:", now=lambda: START + timedelta(days=30))
    live.take_plan(text)
    return live


EVENTS = [
    event(0, "die_set_mounted", "D-1", part=""),
    event(0.1, "die_set_mounted", "D-2", part="", machine="M2"),
    event(2.5, "blank_batch", "B-2", part="", machine="M2"),
]
CHECKS = [
    check(1, counter=300),
    check(2, counter=600),
    check(3, counter=900, machine="M2"),
    check(4, counter=900),
]


@pytest.mark.parametrize("drop", [False, True])
def test_a_machine_event_without_a_part_goes_to_every_stream_that_uses_the_machine(drop):
    """Section 0: "Machine events without a part go to every stream that uses the machine".

    Section 4: "live state and full replay are identical to the last bit"; the plan names no machine.
    """
    live = station(NO_MACHINES)
    for each in EVENTS:
        live.log(each)
    for each in CHECKS:
        if drop:
            live.store.drop_checkpoints()
        live.check_in(each)

    assert [each["die_set"] for each in lines_of(live)] == ["D-1", "D-1", "D-2", "D-1"]
    assert lines_of(live) == replayed(NO_MACHINES, CHECKS, EVENTS)


def test_a_late_check_does_not_lose_the_events_of_another_machine():
    """Section 4: "A fact that arrives with an older time … refolds its stream from there"."""
    live = station(NO_MACHINES)
    for each in EVENTS:
        live.log(each)
    for each in [*CHECKS[1:], CHECKS[0]]:
        live.check_in(each)

    assert lines_of(live) == replayed(NO_MACHINES, CHECKS, EVENTS)


def test_a_struck_out_check_does_not_lose_the_events_of_another_machine():
    live = station(NO_MACHINES)
    for each in EVENTS:
        live.log(each)
    first = live.check_in(CHECKS[0])
    for each in CHECKS[1:]:
        live.check_in(each)
    live.annul(first.check_id, "gauged on the wrong master")

    assert lines_of(live) == replayed(NO_MACHINES, CHECKS[1:], EVENTS)


def test_a_plan_that_names_a_machine_later_meets_what_was_logged_there_before():
    """Section 0, where the plan takes a machine in after its die set was mounted."""
    live = open_shop()
    two = PLAN.replace('id = "T-9"', 'id = "T-10"').replace('id = "M2"', 'id = "M3"')
    live.take_plan(two)
    live.check_in(check(1, counter=300))
    live.log(event(1.5, "die_set_mounted", "D-3", part="", machine="M3"))
    live.take_plan(PLAN.replace('id = "M2"', 'id = "M3"'), at=START + timedelta(hours=2))
    verdict = live.check_in(check(3, counter=300, machine="M3"))

    assert verdict.die_set == "D-3"


def test_streams_share_nothing_else():
    """Section 0: "Streams share nothing else": a hold and a slide move of one part leave the other alone."""
    live = open_shop()
    live.take_plan(PLAN.replace('id = "T-9"', 'id = "T-10"'))
    live.log(event(0, "penetration", "12.340"))
    live.check_in(check(1, 31.290, 300))
    other = live.check_in({**check(2, counter=600), "part": "T-10"})

    assert other.verdict == "run"
    assert other.subgroup("over_pin").mean_at_reference_setting is None


def test_a_check_completed_later_is_folded_once_beside_another_machine():
    """Section 1: "a new key for a known check completes it and refolds", two machines at the same minute."""
    live = open_shop()
    bow = {"time": CHECKS[0]["time"], "machine": "M1", "part": "T-9", "values": {"bow": ["0.020", "0.022"]}}
    other = check(1, counter=310, machine="M2")
    after = check(2, counter=600)
    live.check_in(CHECKS[0])
    live.check_in(other)
    live.check_in(bow)
    live.check_in(after)

    whole = {**CHECKS[0], "values": CHECKS[0]["values"] | bow["values"]}
    assert lines_of(live) == replayed(PLAN, [whole, other, after], [])
