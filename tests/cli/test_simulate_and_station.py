"""`spc simulate` writes what intake takes; `spc station` refuses a port in use and a record that is none."""

import socket
import subprocess
import sys
from pathlib import Path

import pytest
from terminal import Terminal


def test_the_same_seed_writes_the_same_bytes_and_intake_takes_them(spc: Terminal) -> None:
    for folder in ("one", "two"):
        said = spc("simulate", "--out", folder, "--days", 1, "--part", "KS-24", "--seed", 7)
        assert (said.code, said.err) == (0, "")
    names = sorted(path.name for path in Path("one").iterdir())
    assert names == ["events.csv", "plan-KS-24.toml", "readings.csv", "truth.json"]
    for name in names:
        assert Path("one", name).read_bytes() == Path("two", name).read_bytes()
    files = ["--plan", "one", "--readings", "one/readings.csv", "--events", "one/events.csv"]
    assert spc("intake", *files, "--db", spc.record).code == 0


def test_another_seed_is_another_shop(spc: Terminal) -> None:
    for seed in (7, 8):
        spc("simulate", "--out", f"seed-{seed}", "--days", 1, "--part", "KS-24", "--seed", seed)
    assert Path("seed-7/readings.csv").read_bytes() != Path("seed-8/readings.csv").read_bytes()


def test_a_part_the_shop_does_not_make_is_refused_with_those_it_makes(spc: Terminal) -> None:
    said = spc("simulate", "--out", "x", "--part", "P-31")
    assert (said.code, said.out) == (1, "")
    assert "Allowed: KS-24, SW-32, KS-38, BG-21, PW-22, AS-16, GT-34, ST-05." in said.err
    assert not Path("x").exists()


def test_a_folder_that_cannot_be_made_is_named(spc: Terminal) -> None:
    Path("taken").write_text("a file", encoding="utf-8")
    said = spc("simulate", "--out", "taken", "--days", 1)
    assert (said.code, said.out) == (1, "")
    assert "taken" in said.err
    assert "cannot be written" in said.err


def test_a_port_in_use_is_one_paragraph_and_exit_1(spc: Terminal) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        command = [sys.executable, "-m", "spc", "station", "--port", str(port), "--db", str(spc.record)]
        done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
    assert (done.returncode, done.stdout) == (1, "")
    assert f"port {port}" in done.stderr
    assert "--port" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert not spc.record.exists()


@pytest.mark.parametrize("place", ["nowhere/record.sqlite", "diary.txt"])
def test_a_record_that_cannot_be_opened_is_refused_before_anything_is_served(
    spc: Terminal, place: str
) -> None:
    Path("diary.txt").write_text("dear diary " * 100, encoding="utf-8")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    said = spc("station", "--port", port, "--db", place)
    assert (said.code, said.out) == (1, "")
    assert len(said.err.splitlines()) == 1
    assert "Allowed:" in said.err


def test_the_command_hands_over_what_it_was_told(spc: Terminal, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[tuple[object, ...]] = []

    def launched(*asked: object) -> int:
        told.append(asked)
        return 0

    monkeypatch.setattr("spc.pages.launch.launch", launched)
    monkeypatch.setenv("SPC_DB", "named.sqlite")
    for asked in ("station", "station --db here.sqlite --port 8600", "station --demo"):
        assert spc(*asked.split()).code == 0
    assert told == [("named.sqlite", None, False), ("here.sqlite", 8600, False), (None, None, True)]
