"""Checkpoints: a cache that thins itself out, and makes a check cost the same in year ten."""

from itertools import pairwise

import pytest
from made_facts import at, check, event, plan

from spc.store import NewFact, Position
from spc.store.desk import KEEP_EVERY_FACTS


def test_the_latest_comes_back_and_the_latest_before_a_place(store) -> None:
    with store.writing() as desk:
        facts = desk.append([check(hours) for hours in range(200)])
        for fact in facts:
            desk.save_checkpoint("P-31", fact.position, f"state after {fact.id}", "1")
        assert desk.checkpoint("P-31").body == "state after 200"
        assert desk.checkpoint("P-31", before=facts[199].position).fact_id < 200
        assert desk.checkpoint("P-31", before=facts[0].position) is None
        assert desk.checkpoint("P-7") is None
        kept = desk.checkpoint("P-31", before=facts[120].position)
        assert kept.body == f"state after {kept.fact_id}"
        assert 120 - kept.fact_id <= KEEP_EVERY_FACTS


def test_thinned_out_to_the_newest_and_one_in_fifty(store) -> None:
    with store.writing() as desk:
        for hours in range(221):
            (fact,) = desk.append([check(hours)])
            desk.save_checkpoint("P-31", fact.position, "state", "1")
        kept = walk_back(desk)
    assert kept[-1] == 221
    assert {late - early for early, late in pairwise(kept[:-1])} == {KEEP_EVERY_FACTS}
    assert len(kept) <= 221 / KEEP_EVERY_FACTS + 2


def test_another_part_does_not_thin_mine(store) -> None:
    with store.writing() as desk:
        mine, theirs = desk.append([check(0), check(1, part="P-7")])
        desk.save_checkpoint("P-31", mine.position, "mine", "1")
        desk.save_checkpoint("P-7", theirs.position, "theirs", "1")
        assert desk.checkpoint("P-31").body == "mine"


def test_saved_again_at_the_same_place_it_is_replaced(store) -> None:
    with store.writing() as desk:
        (fact,) = desk.append([check(0)])
        desk.save_checkpoint("P-31", fact.position, "old", "1")
        desk.save_checkpoint("P-31", fact.position, "new", "2")
        kept = desk.checkpoint("P-31")
    assert (kept.body, kept.format, kept.position) == ("new", "2", fact.position)


def test_a_late_fact_drops_what_stands_behind_it(store) -> None:
    with store.writing() as desk:
        for hours in range(160):
            (fact,) = desk.append([check(hours)])
            desk.save_checkpoint("P-31", fact.position, "state", "1")
        (other,) = desk.append([check(0, part="P-7")])
        desk.save_checkpoint("P-7", other.position, "state", "1")
        late = Position(at(99.5), 6, 999)
        desk.drop_checkpoints_from("P-31", late)
        assert desk.checkpoint("P-31").position < late
        assert desk.checkpoint("P-7") is not None
    store.drop_checkpoints()
    with store.reading() as shelf:
        assert shelf.checkpoint("P-31") is None
        assert shelf.checkpoint("P-7") is None


def test_an_annulment_at_a_checkpoint_drops_that_checkpoint(store) -> None:
    with store.writing() as desk:
        (fact,) = desk.append([check(0)])
        desk.save_checkpoint("P-31", fact.position, "state", "1")
        desk.append([NewFact("P-31", "R1", "annulled", fact.time, fact.rank, "{}", annuls=fact.id)])
        desk.drop_checkpoints_from("P-31", fact.position)
        assert desk.checkpoint("P-31") is None


@pytest.mark.parametrize("thousands", [1, 10])
def test_one_check_reads_few_rows_however_old_the_record(file_store, thousands: int) -> None:
    with file_store.writing() as desk:
        desk.append([plan(-1)])
        facts = desk.append([check(hours) for hours in range(1000 * thousands)])
        desk.save_checkpoint("P-31", facts[-4].position, "state", "1")
    before = file_store.rows_read
    with file_store.writing("P-31", ["R1"]) as desk:
        checkpoint = desk.checkpoint("P-31")
        assert len(desk.facts("P-31", ["R1"], after=checkpoint.position)) == 3
        stored = desk.append([check(10**4), event(10**4)])
        desk.save_checkpoint("P-31", stored[-1].position, "state", "1")
        desk.facts_at("P-31", "R1", at(10**4))
    assert file_store.rows_read - before == 8


def walk_back(desk) -> list[int]:
    """Return the fact ids of all checkpoints of the part."""
    found, place = [], None
    while (kept := desk.checkpoint("P-31", before=place)) is not None:
        found.insert(0, kept.fact_id)
        place = kept.position
    return found
