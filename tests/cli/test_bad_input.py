"""What is wrong in a plan or a file: refused or taken and marked as promised, in words, with the exit code."""

import csv
from pathlib import Path

import pytest
from terminal import EVENTS, GOOD, HEADER, MOUNTED, PLAN, Said, Terminal, check_row


def test_a_plan_with_typos_is_refused_with_key_line_and_what_is_allowed(spc: Terminal) -> None:
    wrong = PLAN.replace("lower = 31.232", "lowr = 31.232").replace('unit = "mm"', 'unit = "mn"')
    spc.write(check_row(7, GOOD), plan=wrong)
    for said in (spc.intake("--refusals", "refused.csv"), spc.replay()):
        assert (said.code, said.out) == (1, "")
        assert "plan.toml, row 14, characteristic.unit" in said.err
        assert "plan.toml, row 16, characteristic.lowr" in said.err
        assert "lower" in said.err  # what lowr was meant to be
        assert "mm, um, in, deg" in said.err
    assert len(list(csv.reader(Path("refused.csv").read_text(encoding="utf-8").splitlines()))) == 3


def test_a_lower_limit_above_the_upper_is_refused(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD), plan=PLAN.replace("lower = 31.232", "lower = 31.332"))
    said = spc.intake()
    assert said.code == 1
    assert "31.332" in said.err


def both(spc: Terminal, code: int) -> tuple[Said, list[dict]]:
    """Take the files in and replay them; both end alike. Returns the intake's words and the replay's lines."""
    taken, replayed = spc.intake(), spc.replay()
    assert (taken.code, replayed.code) == (code, code)
    # Replay says what is marked in its lines only; the rest is said alike.
    said = taken.err.splitlines()
    refused = [line for line in said if "taken as written but marked" not in line and line[:2] != "  "]
    assert refused == replayed.err.splitlines()
    return taken, replayed.lines


def kinds(line: dict) -> set[str]:
    return {each["kind"] for each in line["signals"]}


def test_letters_cost_their_row_only(spc: Terminal) -> None:
    spc.write(check_row(7, ("thirty", *GOOD[1:]), 100), MOUNTED)
    said, lines = both(spc, 2)
    assert "readings.csv, row 2, x1: a number holds no letters (got 'thirty')." in said.err
    assert "Allowed: a number such as 31.250" in said.err
    assert lines[0]["subgroups"]["over_pin"]["n"] == 4


def test_inch_values_in_a_file_of_millimetres_are_taken_and_marked(spc: Terminal) -> None:
    inches = [f"{float(value) / 25.4:.4f}" for value in GOOD]
    spc.write(check_row(7, GOOD, 100) + check_row(8, inches, 200), MOUNTED)
    _, lines = both(spc, 0)
    assert kinds(lines[1]) >= {"suspect_entry"}
    assert lines[1]["verdict"] == "hold"  # as written they are far out of tolerance
    assert "inch" in str(lines[1]["signals"])
    assert "again" in lines[1]["next_action"]


def test_inch_values_with_their_unit_are_what_they_say(spc: Terminal) -> None:
    header = "time,machine,part,characteristic,unit,piece,value\n"
    rows = "".join(f"2026-03-02T07:00,R1,P-31,over_pin,in,{piece},1.2303\n" for piece in range(1, 6))
    spc.write((header + rows).encode())
    _, lines = both(spc, 0)
    assert lines[0]["subgroups"]["over_pin"]["mean"] == pytest.approx(1.2303 * 25.4, abs=1e-9)
    assert lines[0]["verdict"] == "run"


def test_swapped_digits_are_taken_and_marked(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD, 100) + check_row(8, ("32.150", *GOOD[1:]), 200), MOUNTED)
    _, lines = both(spc, 0)
    assert kinds(lines[1]) >= {"suspect_entry"}
    assert lines[1]["verdict"] == "hold"
    assert "31.25 would fit" in str(lines[1]["signals"])


def test_a_missing_piece_is_taken_with_n_as_it_is(spc: Terminal) -> None:
    spc.write(check_row(7, (*GOOD[:4], ""), 100), MOUNTED)
    _, lines = both(spc, 0)
    assert lines[0]["subgroups"]["over_pin"]["n"] == 4
    assert lines[0]["verdict"] == "run"


def test_a_counter_running_backwards_is_taken_and_marked(spc: Terminal) -> None:
    rows = check_row(7, GOOD, 500) + check_row(8, (*GOOD[1:], GOOD[0]), 90)
    spc.write(rows, MOUNTED)
    _, lines = both(spc, 0)
    assert kinds(lines[1]) == {"suspect_entry"}
    assert "went back from 500 to 90" in str(lines[1]["signals"])
    assert lines[1]["verdict"] == "watch"


def test_a_check_before_its_die_set_is_refused(spc: Terminal) -> None:
    spc.write(check_row(5, GOOD, 100) + check_row(7, GOOD, 100), MOUNTED)
    said, lines = both(spc, 2)
    assert "readings.csv, row 2, time: R1 gets its first die set only at 2026-03-02T06:00:00" in said.err
    assert "Allowed: 2026-03-02T06:00:00 or later." in said.err
    assert [line["time"][11:13] for line in lines] == ["07"]


def test_a_die_set_nobody_mounted_stands_nameless(spc: Terminal) -> None:
    """A machine with no die-set event at all has one unnamed set."""
    spc.write(check_row(7, GOOD, 100))
    _, lines = both(spc, 0)
    assert lines[0]["die_set"] is None
    assert lines[0]["verdict"] == "run"


@pytest.mark.parametrize("event", ["die_set_reground,D-99", "die_set_removed,worn"])
def test_an_event_of_a_die_set_nobody_mounted_is_taken(spc: Terminal, event: str) -> None:
    spc.write(check_row(7, GOOD, 100) + check_row(9, GOOD[::-1], 300), f"2026-03-02T08:00,R1,P-31,{event},\n")
    _, lines = both(spc, 0)
    assert [line["verdict"] for line in lines] == ["run", "run"]


def test_an_unknown_part_is_refused_with_the_parts_there_are(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD, 100) + check_row(8, GOOD, 200, part="P-13"), MOUNTED)
    said, lines = both(spc, 2)
    assert "readings.csv, row 3, part" in said.err
    assert "'P-13'" in said.err
    assert "P-31" in said.err.partition("Allowed:")[2]
    assert len(lines) == 1


def test_where_nothing_at_all_can_be_taken_the_command_failed(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD, 100, part="P-13"))
    said, lines = both(spc, 1)
    assert lines == []
    assert "P-13" in said.err


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"%PDF-1.7\n%\xe2\xe3", "this is a PDF, not a CSV"),
        (b"\x00\x01\x02\x03\xff\xfe" * 40, "a binary file"),
        (b"\xff\xfet\x00i\x00m\x00e\x00", "UTF-16 text"),
        (b"PK\x03\x04 not a workbook", "readings.csv"),
        (b'{"time": 1}\n', "names none of the columns needed"),
        (b"", "the file is empty"),
        (b"time,machine,part\n2026-03-02T07:00,R1,P-31\n", "the header lacks characteristic, piece, value"),
    ],
)
def test_a_file_that_is_no_csv_is_refused_whole(spc: Terminal, content: bytes, says: str) -> None:
    spc.write(content)
    said, _ = both(spc, 1)
    assert said.out == ""
    assert said.err.startswith("readings.csv")
    assert says in said.err
    assert "Allowed:" in said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("option", ["--plan", "--readings", "--events"])
def test_a_missing_file_is_named(spc: Terminal, option: str) -> None:
    spc.write(check_row(7, GOOD), MOUNTED)
    files = spc.files()
    files[files.index(option) + 1] = "elsewhere.csv"
    for said in (spc("intake", *files, "--db", spc.record), spc("replay", *files)):
        assert (said.code, said.out) == (1, "")
        assert "elsewhere.csv" in said.err
        assert "cannot be opened: No such file or directory" in said.err


def test_a_bad_event_is_refused_and_the_good_ones_stand(spc: Terminal) -> None:
    spc.write(check_row(7, GOOD, 100), MOUNTED + "2026-03-02T06:30,R1,P-31,dies_mounted,D-8,\n")
    said, lines = both(spc, 2)
    assert "events.csv, row 4, event" in said.err
    assert "die_set_mounted" in said.err
    assert lines[0]["die_set"] == "D-7"


def test_the_headers_of_the_checks_are_those_of_the_contract() -> None:
    assert HEADER.split(",")[:4] == ["time", "machine", "part", "characteristic"]
    assert EVENTS.startswith("time,machine,part,event,value")
