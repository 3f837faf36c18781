"""The record from a terminal: proved, saved, brought back; locked, read-only and foreign files refused in words."""

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from terminal import GOOD, HEADER, MOUNTED, Terminal, check_row


@pytest.fixture
def filled(spc: Terminal) -> Terminal:
    """A terminal whose record holds two checks."""
    spc.write(check_row(7, GOOD, 100) + check_row(8, GOOD[::-1], 200), MOUNTED)
    assert spc.intake().code == 0
    return spc


def last_seal(out: str) -> str:
    return out.splitlines()[-1].split()[-1]


def test_verify_backup_and_restore_agree(filled: Terminal) -> None:
    proved = filled("record", "verify", "--db", filled.record)
    assert (proved.code, proved.err) == (0, "")
    assert "5, every one is as it was written" in proved.out  # plan, two events, two checks
    saved = filled("record", "backup", "friday.sqlite", "--db", filled.record)
    back = filled("record", "restore", "friday.sqlite", "--db", "again.sqlite")
    assert (saved.code, back.code) == (0, 0)
    assert last_seal(proved.out) == last_seal(saved.out) == last_seal(back.out)
    assert "rows taken       0" in filled("intake", *filled.files(), "--db", "again.sqlite").out


def test_a_fact_changed_by_hand_shows(filled: Terminal) -> None:
    with closing(sqlite3.connect(filled.record)) as connection:
        triggers = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for (name,) in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        connection.execute("UPDATE facts SET body = replace(body, '31.249', '31.250') WHERE kind = 'check'")
        connection.commit()
    said = filled("record", "verify", "--db", filled.record)
    assert said.code == 1
    assert "NOT as it was written" in said.out
    assert "is not as it was written" in said.err
    assert "use the last backup" in said.err
    assert filled("record", "backup", "bad.sqlite", "--db", filled.record).code == 1
    assert not Path("bad.sqlite").exists()


def test_nothing_is_ever_overwritten(filled: Terminal) -> None:
    Path("friday.sqlite").write_text("older", encoding="utf-8")
    said = filled("record", "backup", "friday.sqlite", "--db", filled.record)
    assert (said.code, said.out) == (1, "")
    assert "this file exists already" in said.err
    assert Path("friday.sqlite").read_text(encoding="utf-8") == "older"
    filled("record", "backup", "new.sqlite", "--db", filled.record)
    said = filled("record", "restore", "new.sqlite", "--db", filled.record)
    assert said.code == 1
    assert "a record is never overwritten" in said.err


@pytest.mark.parametrize(
    "command", ["record verify", "record backup b.sqlite", "review --part P-31 --out r.json"]
)
def test_looking_at_a_record_that_is_not_there_makes_none(spc: Terminal, command: str) -> None:
    said = spc(*command.split(), "--db", spc.record)
    assert (said.code, said.out) == (1, "")
    assert "there is no record here" in said.err
    assert list(spc.folder.iterdir()) == []


@pytest.fixture
def held(filled: Terminal) -> Iterator[Terminal]:
    """The record is being written by somebody who does not let go."""
    with closing(sqlite3.connect(filled.record, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield filled


def test_a_locked_record_is_refused_and_says_what_to_do(held: Terminal) -> None:
    said = held.intake()  # waits five seconds for the other one
    assert (said.code, said.out) == (1, "")
    assert "the record is locked: another program has been writing to it for too long" in said.err
    assert "Nothing was changed." in said.err
    assert len(said.err.splitlines()) == 1


@pytest.fixture
def ordinary(filled: Terminal) -> Iterator[Terminal]:
    """Be somebody for whom permissions count: the administrator of a machine is stopped by none."""
    administrator = hasattr(os, "geteuid") and os.geteuid() == 0
    place = Path(tempfile.mkdtemp())
    shutil.copytree(filled.folder, place, dirs_exist_ok=True)
    if administrator:
        for path in (place, *place.iterdir()):
            os.chown(path, 65534, 65534)
        os.seteuid(65534)
    yield Terminal(filled.capsys, place)
    if administrator:
        os.seteuid(0)
    place.chmod(0o700)
    shutil.rmtree(place)


@pytest.mark.parametrize("what", ["file", "folder"])
def test_a_read_only_record_is_refused_and_says_what_to_do(ordinary: Terminal, what: str) -> None:
    if what == "file":
        ordinary.record.chmod(0o444)
    else:
        ordinary.folder.chmod(0o555)
    said = ordinary.intake()
    assert (said.code, said.out) == (1, "")
    assert str(ordinary.record) in said.err
    assert "ive this user write permission on the file and its folder" in said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("what", ["file", "folder", "both"])
def test_a_read_only_record_is_proved_and_nothing_is_left_beside_it(ordinary: Terminal, what: str) -> None:
    before = ordinary("record", "verify", "--db", ordinary.record)
    names = sorted(path.name for path in ordinary.folder.iterdir())
    if what != "folder":
        ordinary.record.chmod(0o444)
    if what != "file":
        ordinary.folder.chmod(0o555)
    said = ordinary("record", "verify", "--db", ordinary.record)
    assert (said.code, said.out, said.err) == (0, before.out, "")
    assert sorted(path.name for path in ordinary.folder.iterdir()) == names


def test_a_read_only_backup_is_proved(ordinary: Terminal) -> None:
    friday = ordinary.folder / "friday.sqlite"
    ordinary("record", "backup", friday, "--db", ordinary.record)
    friday.chmod(0o444)
    ordinary.folder.chmod(0o555)
    said = ordinary("record", "verify", "--db", friday)
    assert (said.code, said.err) == (0, "")
    assert "5, every one is as it was written" in said.out


def test_what_a_running_station_has_just_written_is_proved_too(ordinary: Terminal) -> None:
    """Its log still holds facts that the file itself does not."""
    with closing(sqlite3.connect(ordinary.record, isolation_level=None)) as station:
        station.execute("PRAGMA wal_autocheckpoint=0")
        station.execute("BEGIN")
        station.execute("SELECT count(*) FROM facts").fetchall()  # keeps the log from being emptied
        (ordinary.folder / "readings.csv").write_text(HEADER + check_row(9, GOOD, 300), encoding="utf-8")
        assert ordinary.intake().code == 0
        ordinary.record.chmod(0o444)
        said = ordinary("record", "verify", "--db", ordinary.record)
    assert (said.code, said.err) == (0, "")
    assert "6, every one is as it was written" in said.out


def test_a_read_only_file_that_is_no_record_is_refused(ordinary: Terminal) -> None:
    for content, says in (("dear diary " * 200, "this file is not a record"), ("", "older version")):
        ordinary.record.chmod(0o644)
        ordinary.record.write_text(content, encoding="utf-8")
        ordinary.record.chmod(0o444)
        said = ordinary("record", "verify", "--db", ordinary.record)
        assert (said.code, said.out) == (1, "")
        assert says in said.err
        assert len(said.err.splitlines()) == 1


def test_a_file_that_is_no_record_is_left_alone(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    spc.record.write_text("dear diary " * 200, encoding="utf-8")
    said = spc.intake()
    assert (said.code, said.out) == (1, "")
    assert "this file is not a record" in said.err
    assert spc.record.read_text(encoding="utf-8").startswith("dear diary")


def test_a_folder_that_is_missing_is_named(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    said = spc("intake", *spc.files(), "--db", "nowhere/record.sqlite")
    assert said.code == 1
    assert "nowhere does not exist" in said.err


def test_a_blank_name_is_not_another_record(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    said = spc("intake", *spc.files(), "--db", "")
    assert said.code == 1
    assert "no record is named" in said.err
    assert not (spc.folder / "spc-record.sqlite").exists()
