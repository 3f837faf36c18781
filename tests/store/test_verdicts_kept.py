"""Verdicts: kept as shown; what no longer stands is marked, not erased."""

import sqlite3

import pytest
from made_facts import at, check, verdict


def test_the_same_verdict_is_kept_once_and_another_supersedes_it(store) -> None:
    with store.writing("P-31", ["R1"]) as desk:
        first, second = desk.append([check(1), check(2)])
        assert len(desk.save_verdicts([verdict(first, "run"), verdict(second, "run")])) == 2
        assert desk.save_verdicts([verdict(first, "run")]) == []
        (changed,) = desk.save_verdicts([verdict(first, "hold"), verdict(second, "run")])
    assert (changed.id, changed.fact_id, changed.body, changed.superseded_at) == (3, 1, "hold", None)
    with store.reading() as shelf:
        assert [each.body for each in shelf.verdicts("P-31")] == ["hold", "run"]
        old, new, other = shelf.verdicts("P-31", superseded=True)
        assert shelf.standing_verdicts([1, 2, 99]) == {1: new, 2: other}
    assert (old.body, old.superseded_at, old.superseded_by) == ("run", changed.made_at, 3)
    assert (new, other.body) == (changed, "run")
    assert new.position == first.position


def test_the_verdict_of_a_struck_out_check_no_longer_stands(store) -> None:
    with store.writing() as desk:
        fact, untouched = desk.append([check(1), check(2)])
        desk.save_verdicts([verdict(fact, "hold"), verdict(untouched, "run")])
        desk.supersede_verdict(fact.id)
        desk.supersede_verdict(fact.id)  # nothing stands any more, nothing happens
        assert [each.body for each in desk.verdicts("P-31")] == ["run"]
        gone = desk.verdicts("P-31", superseded=True)[0]
    assert gone.superseded_at is not None
    assert gone.superseded_by is None


def test_a_verdict_is_superseded_once_for_ever(file_store, file) -> None:
    with file_store.writing() as desk:
        (fact,) = desk.append([check(1)])
        desk.save_verdicts([verdict(fact, "hold")])
        desk.supersede_verdict(fact.id)
    raw = sqlite3.connect(file)
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        raw.execute("UPDATE verdicts SET superseded_at = NULL")
    raw.close()


def test_verdicts_by_machine_period_and_number(store) -> None:
    with store.writing() as desk:
        facts = desk.append(
            [check(hours) for hours in range(6)] + [check(1, machine="R2"), check(1, part="P-7")]
        )
        desk.save_verdicts([verdict(fact, str(fact.id)) for fact in facts])
        desk.save_verdicts([verdict(facts[5], "again")])
    with store.reading() as shelf:
        assert bodies(shelf.verdicts("P-31")) == ["1", "2", "7", "3", "4", "5", "again"]
        assert bodies(shelf.verdicts("P-31", "R1", at(1), at(4))) == ["2", "3", "4"]
        assert bodies(shelf.verdicts("P-31", "R1", newest=2)) == ["5", "again"]
        assert bodies(shelf.verdicts("P-31", newest=3, superseded=True)) == ["5", "6", "again"]


def bodies(verdicts) -> list[str]:
    return [each.body for each in verdicts]
