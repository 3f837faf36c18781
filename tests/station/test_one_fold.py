"""Live state and full replay are the same to the last bit, however the facts came in."""

import random

import pytest
from feed import DEMO, demo_facts, feed, kept_lines, plan_of, replayed, state_text, station

from spc.intake import read_history, read_plans
from spc.shop import CheckGauged
from spc.station import replay, verdict_line

PARTS = ("KS-24", "BG-21")


def as_fed(part: str, count: int, order: list[int] | None = None, drop_every: int = 0):
    facts = demo_facts(part, count)
    plan = plan_of(part)
    live = station()
    live.take_plan(plan.text)
    ids = {}
    for place, index in enumerate(order or range(len(facts))):
        ids[index] = feed(live, facts[index], plan.zone)
        if drop_every and place % drop_every == 0:
            live.store.drop_checkpoints()
    return live, plan, facts, ids


@pytest.mark.parametrize("part", PARTS)
def test_one_by_one_is_the_replay_to_the_last_bit(part):
    live, plan, facts, _ = as_fed(part, 80)

    lines, state = replayed(plan, facts)
    assert lines == kept_lines(live, part)
    assert state == state_text(live, part)


@pytest.mark.parametrize("drop_every", [1, 7])
def test_checkpoints_are_only_a_cache(drop_every):
    live, plan, facts, _ = as_fed("KS-24", 40, drop_every=drop_every)

    lines, state = replayed(plan, facts)
    assert lines == kept_lines(live, "KS-24")
    assert state == state_text(live, "KS-24")


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_late_facts_end_in_the_same_state(seed):
    """Facts arrive in a shuffled order: neighbours swapped, and some of them much later."""
    count = 60
    dice = random.Random(seed)
    order = sorted(range(count), key=lambda i: i + dice.choice([0, 0, 0, 2.5, 25.5]))
    live, plan, facts, _ = as_fed("KS-24", count, order=order)

    lines, state = replayed(plan, facts)
    assert lines == kept_lines(live, "KS-24")
    assert state == state_text(live, "KS-24")


def test_a_check_struck_out_was_never_judged():
    live, plan, facts, ids = as_fed("BG-21", 60)
    checks = [index for index, fact in enumerate(facts) if isinstance(fact, CheckGauged)]
    struck = {checks[3], checks[-1], checks[len(checks) // 2]}
    for index in struck:
        live.annul(ids[index], "gauged on the wrong master")

    left = [fact for index, fact in enumerate(facts) if index not in struck]
    lines, state = replayed(plan, left)
    assert lines == kept_lines(live, "BG-21")
    assert state == state_text(live, "BG-21")


def test_a_check_struck_out_and_entered_again_is_as_if_nothing_had_been():
    live, plan, facts, ids = as_fed("BG-21", 60)
    index = [i for i, fact in enumerate(facts) if isinstance(fact, CheckGauged)][10]
    live.annul(ids[index], "typed into the wrong part")
    again = feed(live, facts[index], plan.zone)

    lines, state = replayed(plan, facts)
    assert again != ids[index]
    assert lines == kept_lines(live, "BG-21")
    assert state == state_text(live, "BG-21")


def test_verdicts_that_were_shown_stay_and_are_marked_superseded():
    live, _, facts, ids = as_fed("KS-24", 60)
    index = [i for i, fact in enumerate(facts) if isinstance(fact, CheckGauged)][5]
    live.annul(ids[index], "a test of the record")

    with live.store.reading() as shelf:
        every = shelf.verdicts("KS-24", superseded=True)
        standing = shelf.verdicts("KS-24")
    gone = [each for each in every if each.superseded_at is not None]
    assert ids[index] in {each.fact_id for each in gone}
    assert ids[index] not in {each.fact_id for each in standing}
    assert len({each.fact_id for each in gone}) > 1  # what came after it was judged again


def test_a_file_taken_in_and_the_same_file_replayed_agree():
    plans = read_plans([DEMO])
    history = read_history(plans, DEMO / "readings.csv", DEMO / "events.csv")
    live = station()
    taken = live.take_history(plans, history)
    again = live.take_history(plans, history)

    assert taken.exit_code == again.exit_code == 0
    assert again.taken == 0
    assert again.already == taken.taken
    lines = [verdict_line(each) for each in replay(plans, history.checks, history.events)]
    for plan in plans:
        assert [each for each in lines if each["part"] == plan.part] == kept_lines(live, plan.part)
