"""Transactions: whole or not at all, and many writers at once lose nothing."""

import threading

import pytest
from made_facts import at, check, verdict

from spc.errors import Refused
from spc.store import open_store, verify


def test_a_failure_leaves_nothing(store) -> None:
    with store.writing() as desk:
        desk.append([check(0)])
    with pytest.raises(ZeroDivisionError), store.writing() as desk:  # noqa: PT012  # the whole transaction fails
        (fact,) = desk.append([check(1)])
        desk.save_verdicts([verdict(fact, "run")])
        desk.save_checkpoint("P-31", fact.position, "state", "1")
        1 / 0  # noqa: B018  # the failure
    with store.reading() as shelf:
        assert [fact.id for fact in shelf.facts("P-31", [])] == [1]
        assert shelf.verdicts("P-31") == []
        assert shelf.checkpoint("P-31") is None
    with store.writing() as desk:
        assert [fact.id for fact in desk.append([check(2)])] == [2]
    assert verify(store).intact


def test_a_refusal_inside_comes_out_as_it_was(store) -> None:
    with pytest.raises(Refused, match=r"^entry page, x1: not a number"), store.writing() as desk:  # noqa: PT012  # the whole transaction fails
        desk.append([check(0)])
        raise Refused.one("not a number", file="entry page", column="x1")
    assert verify(store).facts == 0


def test_threads_that_read_and_then_write_lose_nothing(file) -> None:
    """Two stores, as two programs would be, and two threads on each."""
    stores = [open_store(file), open_store(file)]
    failures: list[BaseException] = []

    def write(number: int) -> None:
        try:
            for step in range(25):
                with stores[number % 2].writing("P-31", ["R1"]) as desk:
                    seen = len(desk.facts("P-31", ["R1"]))
                    desk.append([check(step, body=str(seen), by_name=str(number))])
        except BaseException as failure:
            failures.append(failure)

    threads = [threading.Thread(target=write, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    with stores[0].reading() as shelf:
        facts = sorted(shelf.facts("P-31", []), key=lambda fact: fact.id)
    assert [int(fact.body) for fact in facts] == list(range(100))  # each saw all before it: no lost update
    assert verify(stores[1]).intact
    for store in stores:
        store.close()


def test_threads_share_a_record_in_memory() -> None:
    store = open_store(":memory:")

    def write() -> None:
        for step in range(50):
            with store.writing() as desk:
                desk.append([check(step)])

    threads = [threading.Thread(target=write) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert verify(store).facts == 150
    store.close()


def test_many_open_the_same_new_file_at_once(file) -> None:
    opened, failures, start = [], [], threading.Barrier(6)

    def make() -> None:
        start.wait()
        try:
            opened.append(open_store(file))
        except BaseException as failure:
            failures.append(failure)

    threads = [threading.Thread(target=make) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    for store in opened:
        assert verify(store).intact
        store.close()


def test_a_reader_keeps_its_moment_while_others_write(file_store) -> None:
    with file_store.writing() as desk:
        desk.append([check(0)])

    def write() -> None:
        with file_store.writing() as desk:
            desk.append([check(1)])

    with file_store.reading() as shelf:
        assert len(shelf.facts("P-31", [])) == 1
        writer = threading.Thread(target=write)
        writer.start()
        writer.join()
        assert len(shelf.facts("P-31", [])) == 1
    with file_store.reading() as shelf:
        assert len(shelf.facts("P-31", [])) == 2


def test_reading_inside_a_transaction_gives_what_is_open(store) -> None:
    with store.writing() as desk:
        desk.append([check(0)])
        with store.reading() as shelf:
            assert shelf is desk
        with store.reading() as shelf:
            assert shelf.facts_at("P-31", "R1", at(0)) != []
    with store.reading() as outer, store.reading() as inner:
        assert inner is outer


def test_nested_writing_is_a_mistake_in_the_program(store) -> None:
    with store.writing() as desk:
        with pytest.raises(RuntimeError, match="open in this thread"):
            store.save_draft("k", "x")
        with pytest.raises(RuntimeError, match="open in this thread"), store.writing():
            pass
        desk.append([check(0)])
    with store.reading(), pytest.raises(RuntimeError, match="open in this thread"), store.writing():
        pass
    assert verify(store).facts == 1


def test_the_desk_carries_its_stream(store) -> None:
    with store.writing("P-31", {"R2", "R1"}) as desk:
        assert (desk.part, desk.machines) == ("P-31", ("R1", "R2"))


def test_drafts_survive_until_dropped(store) -> None:
    store.save_draft("R1/P-31", '["31.2"')
    store.save_draft("R1/P-31", '["31.25", "31.26"]')
    with store.reading() as shelf:
        assert shelf.draft("R1/P-31") == '["31.25", "31.26"]'
        assert shelf.draft("R2/P-31") is None
    store.drop_draft("R1/P-31")
    store.drop_draft("R1/P-31")
    with store.reading() as shelf:
        assert shelf.draft("R1/P-31") is None
