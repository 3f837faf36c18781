"""What a person reads without --json: true words, singular and plural, and one sentence of meaning at the end."""

import pytest
from published_files import file_of
from terminal import AIAG, GEARS, RINGS, Terminal


def table(spc: Terminal, *command: object) -> list[str]:
    said = spc(*command)
    assert (said.code, said.err) == (0, "")
    assert "nan" not in said.out.lower()
    lines: list[str] = said.out.splitlines()
    assert lines[-1].endswith(".")
    assert lines[-1].count(". ") <= 1 + lines[-1].count("no. ")  # the number of a point is written "no. 5"
    return lines


ALL_INSIDE = [
    ("rings", "xbar_r", "None of the 25 subgroups stands out: chance alone explains what is seen."),
    (
        "viscosity",
        "individuals",
        "None of the 15 pieces stands out: chance alone explains what is seen; limits worth signing want 20 pieces "
        "or more.",
    ),
]


@pytest.mark.parametrize(("data", "chart", "last"), ALL_INSIDE)
def test_nothing_stands_out(spc: Terminal, data: str, chart: str, last: str) -> None:
    assert table(spc, "limits", "--chart", chart, "--readings", file_of(spc.folder, data))[-1] == last


def test_what_stands_out_is_said_beside_its_point(spc: Terminal) -> None:
    lines = table(spc, "limits", "--chart", "xbar_s", "--readings", GEARS)
    assert any("  0.9919 is below the lower control limit" in line for line in lines)
    assert any("  s 0.009886017 is above the upper control limit" in line for line in lines)
    assert lines[-1] == (
        "2 of 10 subgroups stand out (no. 5, 6): find out what was different there before anybody relies on these "
        "limits."
    )


def test_one_stands_and_many_say_that_the_level_moves(spc: Terminal) -> None:
    one = table(spc, "limits", "--chart", "xbar_r", "--readings", GEARS)[-1]
    assert one.startswith("1 of 10 subgroups stands out (no. 5): ")
    mavro = table(spc, "limits", "--chart", "individuals", "--readings", file_of(spc.folder, "mavro"))[-1]
    assert "the process does not stay at one level, and these limits do not describe it" in mavro


def test_single_pieces_are_called_so(spc: Terminal) -> None:
    asked = ("--readings", file_of(spc.folder, "chemical"))
    for chart in ("individuals", "ewma", "cusum"):
        lines = table(spc, "limits", "--chart", chart, *asked)
        assert any(line.split() == ["single", "pieces", "20"] for line in lines)
    assert any(line.startswith("limit of the sums") for line in lines)
    assert any(line.split()[:2] == ["no.", "value"] for line in lines)


def test_capability_does_not_call_pieces_normal_that_contradict_it(spc: Terminal) -> None:
    lines = table(spc, "capability", "--readings", GEARS, "--lower", 0.98, "--upper", 1.02)
    assert any(line.split(None, 2)[:2] == ["over", "time"] and "normal" not in line for line in lines)
    lines = table(spc, "capability", "--readings", RINGS, "--lower", 73.95, "--upper", 74.05)
    assert any("over time" in line and "normal" in line for line in lines)
    assert lines[-1].startswith(
        "With 125 pieces Ppk is 1.60; at 95 % nothing better than 1.39 may be promised"
    )


def test_people_in_a_study_are_counted_in_words(spc: Terminal) -> None:
    rows = [row for row in AIAG.read_text(encoding="utf-8").splitlines() if row[0] in "aA"]
    file = spc.folder / "one.csv"
    file.write_text("\n".join(rows), encoding="utf-8")
    assert table(spc, "gauge-study", "--readings", file)[0].endswith("10 parts, 1 appraiser, 3 trials")
    assert table(spc, "gauge-study", "--readings", AIAG)[0].endswith("10 parts, 3 appraisers, 3 trials")
