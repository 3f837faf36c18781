"""The ledger and the backup: a silent change shows, and a copy is proved before it counts."""

import sqlite3
from hashlib import sha256

import pytest
from made_facts import check, verdict

from spc.errors import Refused
from spc.store import backup, open_store, restore, verify


@pytest.fixture
def five(file_store):
    with file_store.writing() as desk:
        facts = desk.append([check(0), check(1)])
        facts += desk.append([check(hours, body=f"[{hours}]") for hours in range(2, 5)])
        desk.save_verdicts([verdict(fact, "run") for fact in facts])
    return file_store


def tamper(file, change: str) -> None:
    raw = sqlite3.connect(file)
    for trigger in ("facts_not_changed", "facts_not_deleted"):
        raw.execute(f"DROP TRIGGER {trigger}")
    raw.execute(change)
    raw.commit()
    raw.close()


def test_an_untouched_record_is_intact(five) -> None:
    report = verify(five)
    assert (report.facts, report.broken, report.intact) == (5, (), True)
    with five.reading() as shelf:
        assert report.last_link == shelf.fact(5).link


def test_an_empty_record_is_intact(store) -> None:
    assert verify(store).intact


@pytest.mark.usefixtures("five")
def test_the_seal_is_what_anybody_can_recompute(file) -> None:
    """Written out by hand: SHA-256 over the seal before, a line end, and the row as JSON."""
    raw = sqlite3.connect(file)
    links = [row[0] for row in raw.execute("SELECT link FROM facts ORDER BY id")]
    columns = "id,part,machine,kind,time,rank,body,recorded_at,by_name,reason,source,annuls"
    plain = raw.execute(f"SELECT json_array({columns}) FROM facts ORDER BY id").fetchall()
    raw.close()
    previous = ""
    for link, (row,) in zip(links, plain, strict=True):
        assert link == sha256((previous + "\n" + row).encode()).hexdigest()
        previous = link


@pytest.mark.parametrize(
    ("change", "fact_id", "says"),
    [
        (
            "UPDATE facts SET body = '[9]' WHERE id = 3",
            3,
            "fact 3 (check of P-31, 2026-03-02T08:00:00.000000+00:00)",
        ),
        ("UPDATE facts SET recorded_at = '2026' WHERE id = 1", 1, "is not as it was written"),
        ("UPDATE facts SET by_name = 'Ina' WHERE id > 3", 4, "is not as it was written"),
        ("UPDATE facts SET link = 'x' WHERE id = 2", 2, "is not as it was written"),
        ("DELETE FROM facts WHERE id = 3", 3, "fact 3 is gone; the next one is 4"),
        ("DELETE FROM facts WHERE id = 5", 5, "a verdict was shown for fact 5, which is gone"),
    ],
)
def test_tampering_shows_at_its_first_row(five, file, change: str, fact_id: int, says: str) -> None:
    tamper(file, change)
    report = verify(five)
    assert not report.intact
    assert report.broken[0].fact_id == fact_id
    assert says in report.broken[0].says


def test_backup_and_restore_bring_everything_back(five, tmp_path) -> None:
    target, again = tmp_path / "saved.sqlite", tmp_path / "again.sqlite"
    report = backup(five, target)
    assert report == verify(five)
    with five.writing() as desk:
        desk.append([check(9)])  # written after the backup
    assert restore(target, f"sqlite:///{again}") == report
    store = open_store(again)
    with store.reading() as new, five.reading() as old:
        assert new.facts("P-31") == old.facts("P-31")[:5]
        assert new.verdicts("P-31") == old.verdicts("P-31")
    store.close()
    names = {path.name for path in tmp_path.iterdir() if not path.name.startswith("record.sqlite")}
    assert names == {"saved.sqlite", "again.sqlite"}


def test_a_record_in_memory_can_be_saved(store, tmp_path) -> None:
    with store.writing() as desk:
        desk.append([check(0)])
    assert backup(store, tmp_path / "saved.sqlite").facts == 1


def test_nothing_is_overwritten(five, file, tmp_path) -> None:
    target = tmp_path / "saved.sqlite"
    backup(five, target)
    content = target.read_bytes()
    with pytest.raises(Refused, match=r"exists already.*never overwritten"):
        backup(five, target)
    with pytest.raises(Refused, match=r"exists already.*a record is never overwritten"):
        restore(target, file)
    assert target.read_bytes() == content
    assert verify(five).facts == 5


def test_a_broken_backup_is_not_brought_back(five, tmp_path) -> None:
    target, again = tmp_path / "saved.sqlite", tmp_path / "again.sqlite"
    backup(five, target)
    tamper(target, "UPDATE facts SET body = '[9]' WHERE id = 3")
    with pytest.raises(
        Refused, match=r"saved\.sqlite: the copy was not kept: fact 3 .*not as it was written"
    ):
        restore(target, again)
    assert not again.exists()
    assert list(tmp_path.glob("*.part*")) == []


def test_what_is_no_backup_and_where_none_can_go(five, tmp_path) -> None:
    target, other = tmp_path / "saved.sqlite", tmp_path / "readings.csv"
    backup(five, target)
    other.write_text("time,machine\n" * 100)
    with pytest.raises(Refused, match=r"readings\.csv: this file is not a record"):
        restore(other, tmp_path / "again.sqlite")
    with pytest.raises(Refused, match="there is no such backup"):
        restore(tmp_path / "none.sqlite", tmp_path / "again.sqlite")
    with pytest.raises(Refused, match="only be brought back into a file"):
        restore(target, ":memory:")
    with pytest.raises(Refused, match="does not exist"):
        backup(five, tmp_path / "no" / "saved.sqlite")
    assert not (tmp_path / "again.sqlite").exists()
