"""Files into the record and the same files replayed: both say the same, whatever is refused on the way."""

import csv
import json
from pathlib import Path

import pytest
from terminal import GOOD, HEADER, MOUNTED, PLAN, REFERENCES, Terminal, check_row

from spc.station import open_station, verdict_line
from spc.station.kept import verdict_of

DEMO = Path(__file__).parents[2] / "demo_data"
RING_PLAN = """\
[part]
id = "ring"
description = "piston ring, inside diameter"
[[characteristic]]
name = "bore"
kind = "diameter"
unit = "mm"
nominal = 74.000
lower = 73.950
upper = 74.050
"""


def kept_lines(record: Path) -> list[dict]:
    """The verdicts that stand in the record, in time order, without the record's own ids."""
    station = open_station(record)
    with station.store.reading() as shelf:
        found = [verdict_line(verdict_of(each)) for part in shelf.parts() for each in shelf.verdicts(part)]
    station.close()
    for line in found:
        line.pop("check_id")
    return found


def same_order(lines: list[dict]) -> list[dict]:
    return sorted(lines, key=lambda line: (line["time"], line["machine"], line["part"]))


def test_the_demo_month_is_taken_in_and_replayed_alike(spc: Terminal) -> None:
    files = ["--plan", DEMO, "--readings", DEMO / "readings.csv", "--events", DEMO / "events.csv"]
    taken = spc("intake", *files, "--db", spc.record)
    assert taken.code == 0
    # The month was made with two entry mistakes that can be read: demo_data/truth.json.
    assert taken.err.splitlines()[0].startswith("2 checks were taken as written but marked")
    replayed = spc("replay", *files)
    assert (replayed.code, replayed.err) == (0, "")
    assert len(replayed.lines) > 1000
    assert same_order(replayed.lines) == same_order(kept_lines(spc.record))
    assert [line["time"] for line in replayed.lines] == sorted(line["time"] for line in replayed.lines)

    again = spc("intake", *files, "--db", spc.record)
    assert again.code == 0
    assert "rows taken       0" in again.out
    assert "checks judged    0" in again.out
    assert again.err == ""


def test_what_is_hard_to_believe_is_taken_and_said(spc: Terminal) -> None:
    turned = [(*GOOD[turn:], *GOOD[:turn]) for turn in range(5)]
    rows = [check_row(7 + turn, turned[turn], 100 * (7 + turn)) for turn in range(3)]
    slip = check_row(10, (*GOOD[:-1], "312.50"), 1000)
    spc.write("".join([*rows, slip, check_row(11, turned[4], 500)]), MOUNTED)
    taken = spc.intake()
    assert taken.code == 0
    assert "checks marked    2" in taken.out
    head, first, second = taken.err.splitlines()
    assert head.startswith("2 checks were taken as written but marked")
    assert first.startswith("  2026-03-02 10:00, R1, P-31: piece 5: 312.50 mm")
    assert second.startswith("  2026-03-02 11:00, R1, P-31: the counter went back from 1000 to 500")


def test_replay_writes_the_same_lines_to_a_file_and_makes_no_record(spc: Terminal) -> None:
    spc.write("".join(check_row(hour, GOOD, 100 * hour) for hour in range(7, 10)), MOUNTED)
    to_stdout, to_file = spc.replay(), spc.replay("--out", "verdicts.jsonl")
    assert (to_file.code, to_file.out) == (0, "")
    written = Path("verdicts.jsonl").read_text(encoding="utf-8")
    assert [json.loads(line) for line in written.splitlines()] == to_stdout.lines
    assert not list(spc.folder.glob("*.sqlite*"))
    first = to_stdout.lines[0]
    assert list(first)[:14] == [
        "time",
        "machine",
        "part",
        "die_set",
        "counter",
        "age",
        "purpose",
        "verdict",
        "signals",
        "explained",
        "correction",
        "contain",
        "die_life",
        "subgroups",
    ]
    assert first["time"] == "2026-03-02T07:00:00"
    assert first["die_set"] == "D-7"


def test_a_file_out_of_order_is_replayed_in_time_order(spc: Terminal) -> None:
    spc.write("".join(check_row(hour, GOOD, 100 * hour) for hour in (9, 7, 8)), MOUNTED)
    assert [line["time"][11:13] for line in spc.replay().lines] == ["07", "08", "09"]


def test_piston_rings_are_taken_under_a_plan_of_their_own(spc: Terminal) -> None:
    """Published data (tests/references/README.md), no counter and no die set: all 125 pieces are inside."""
    rows = list(csv.reader((REFERENCES / "piston_rings.csv").read_text(encoding="utf-8").splitlines()))[1:]
    lines = ["time,machine,part,characteristic,x1,x2,x3,x4,x5"]
    lines += [f"2026-01-{day:02}T08:00,M1,ring,bore,{','.join(row)}" for day, row in enumerate(rows, start=1)]
    spc.write("\n".join(lines).encode(), plan=RING_PLAN)
    said = spc.intake()
    assert (said.code, said.err) == (0, "")
    assert "rows taken       125" in said.out
    found = kept_lines(spc.record)
    assert len(found) == 25
    assert {line["die_set"] for line in found} == {line["counter"] for line in found} == {None}
    assert {line["die_life"] for line in found} == {None}
    assert {line["verdict"] for line in found} == {"run"}  # in control and in tolerance, as published
    assert found[0]["subgroups"]["bore"]["mean"] == pytest.approx(74.010, abs=5e-4)
    after_20 = found[20]["subgroups"]["bore"]
    assert after_20["limits"] == "provisional"
    assert same_order(spc.replay().lines) == same_order(found)


def test_the_second_week_needs_no_mounting_before_its_first_check(spc: Terminal) -> None:
    """The record knows the die set from the first files: checks before the next mounting are no strangers."""
    spc.write(check_row(7, GOOD, 100), MOUNTED)
    assert spc.intake().code == 0
    later = "2026-03-02T10:00,R1,P-31,die_set_removed,worn,\n2026-03-02T10:00,R1,P-31,die_set_mounted,D-8,\n"
    turned = (*GOOD[1:], GOOD[0])
    spc.write(check_row(8, turned, 200) + check_row(11, GOOD, 90), later)
    said = spc.intake()
    assert (said.code, said.err) == (0, "")
    assert [line["die_set"] for line in kept_lines(spc.record)] == ["D-7", "D-7", "D-8"]


def test_refused_rows_are_said_counted_and_written(spc: Terminal) -> None:
    rows = "".join(check_row(hour, ("31.25x", *GOOD[1:]), 100 * hour) for hour in range(24))
    spc.write(rows, MOUNTED.replace("T06:00", "T00:00"))
    said = spc.intake("--refusals", "refused.csv")
    assert said.code == 2
    assert "refused          24" in said.out
    assert said.err.count("a number holds no letters (got '31.25x')") == 20
    assert said.err.splitlines()[-1] == "… and 4 more."
    written = list(csv.reader(Path("refused.csv").read_text(encoding="utf-8").splitlines()))
    assert written[0] == ["file", "row", "column", "value", "reason", "allowed"]
    assert [row[:4] for row in written[1:3]] == [
        ["readings.csv", "2", "x1", "31.25x"],
        ["readings.csv", "3", "x1", "31.25x"],
    ]
    assert len(written) == 25
    replayed = spc.replay("--refusals", "replayed.csv")
    assert replayed.code == 2
    assert Path("replayed.csv").read_bytes() == Path("refused.csv").read_bytes()
    assert same_order(replayed.lines) == same_order(kept_lines(spc.record))
    assert {line["subgroups"]["over_pin"]["n"] for line in replayed.lines} == {4}


def test_nothing_refused_leaves_the_header_alone(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    assert spc.intake("--refusals", "refused.csv").code == 0
    assert Path("refused.csv").read_text(encoding="utf-8") == "file,row,column,value,reason,allowed\n"


def test_a_conflict_with_the_record_is_refused_and_the_record_stands(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    assert spc.intake().code == 0
    before = kept_lines(spc.record)
    spc.write(check_row(7, ("31.240", *GOOD[1:])))
    said = spc.intake()
    assert said.code == 2
    assert "piece 1 of over_pin was already taken with another value" in said.err
    assert "the value in the record, 31.249" in said.err
    assert kept_lines(spc.record) == before


def test_a_folder_and_several_plans_are_read(spc: Terminal) -> None:
    (spc.folder / "plans").mkdir()
    (spc.folder / "plans" / "plan-ring.toml").write_text(RING_PLAN, encoding="utf-8")
    (spc.folder / "shaft.toml").write_text(PLAN, encoding="utf-8")
    (spc.folder / "readings.csv").write_text(HEADER + check_row(7, GOOD), encoding="utf-8")
    said = spc("replay", "--plan", "plans", "--plan", "shaft.toml", "--readings", "readings.csv")
    assert (said.code, len(said.lines)) == (0, 1)


def test_progress_is_said_to_a_terminal_only(spc: Terminal, monkeypatch: pytest.MonkeyPatch) -> None:
    spc.write(check_row(7, GOOD), MOUNTED)
    assert spc.replay().err == ""
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    assert "judging 1 checks …" in spc.replay().err


def test_an_output_that_cannot_be_written_stops_before_anything_is_taken(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    for said in (
        spc.intake("--refusals", "nowhere/refused.csv"),
        spc.replay("--out", "nowhere/verdicts.jsonl"),
    ):
        assert (said.code, said.out) == (1, "")
        assert "cannot be written: No such file or directory" in said.err
    assert not spc.record.exists()


def test_no_output_is_written_over_an_input(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD))
    before = Path("readings.csv").read_bytes()
    for said in (spc.intake("--refusals", "readings.csv"), spc.replay("--out", "./readings.csv")):
        assert (said.code, said.out) == (1, "")
        assert "this would be written over a file that is to be read" in said.err
    assert Path("readings.csv").read_bytes() == before
