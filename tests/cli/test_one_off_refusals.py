"""What spc limits, spc capability and spc gauge-study cannot answer: a code, one paragraph a mistake, no traceback."""

import subprocess
import sys
from pathlib import Path

import pytest
from terminal import AIAG, RINGS, Said, Terminal

from spc.shop.layouts import CHART_RULES
from spc.statistics import rule_set
from spc.statistics.suited_rules import Plotted

LIMITS = ("limits", "--chart", "xbar_r")
CAPABILITY = ("capability", "--upper", "20")
STUDY = ("gauge-study",)


def asked(spc: Terminal, content: str | bytes, *command: object) -> Said:
    """Ask for a file of this content, with and without --json: both end alike, and say so alike."""
    file = spc.folder / "file.csv"
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    said, plain = (spc(*command, "--readings", file, *more) for more in (("--json",), ()))
    assert (said.code, said.err) == (plain.code, plain.err)
    for line in said.err.splitlines():
        assert line.endswith(".")
    return said


NO_FILES = [
    (b"", "the file is empty"),
    (b" \n\n", "the file is empty"),
    (bytes(range(256)) * 4, "this is a binary file"),
    (b"\xff\xfex\x001\x00", "this is UTF-16 text"),
    (b"%PDF-1.7\n", "this is a PDF"),
    (b"PK\x03\x04 nothing", "no"),
]


@pytest.mark.parametrize("command", [LIMITS, CAPABILITY, STUDY])
@pytest.mark.parametrize(("content", "says"), NO_FILES)
def test_no_table(spc: Terminal, command: tuple[str, ...], content: bytes, says: str) -> None:
    said = asked(spc, content, *command)
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert said.err.startswith("file.csv: ")
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("command", [LIMITS, CAPABILITY, STUDY])
def test_no_file_and_a_folder(spc: Terminal, command: tuple[str, ...]) -> None:
    for name, says in (("nowhere.csv", "No such file or directory"), (spc.folder, "Is a directory")):
        said = spc(*command, "--readings", name)
        assert (said.code, said.out) == (1, "")
        assert says in said.err
        assert len(said.err.splitlines()) == 1


EQUAL = "10\n10\n10\n10\n"
NO_ANSWER = [
    (LIMITS, "1,2,3\n", "too few subgroups"),
    (LIMITS, "5\n6\n7\n8\n", "one piece in every subgroup"),
    (LIMITS, "x1,x2\n5,\n6,\n7,8\n7,9\n", "one piece in subgroups 1, 2"),
    (LIMITS, "10,10\n10,10\n", "no spread within a check"),
    (LIMITS, "foo,bar\n1,2\n", "nothing here names the values"),
    (LIMITS, "x1,x2\n", "the file holds no values"),
    (LIMITS, "x1,x1\n1,2\n", "a column stands here twice"),
    (("limits", "--chart", "xbar_s"), "5\n6\n7\n8\n", "one piece in every subgroup"),
    (("limits", "--chart", "median_r"), "5\n6\n7\n8\n", "one piece in every subgroup"),
    (("limits", "--chart", "individuals"), "1,2\n2,3\n", "takes single pieces"),
    (("limits", "--chart", "individuals"), EQUAL, "they are all equal"),
    (("limits", "--chart", "individuals"), "5\n", "too few subgroups"),
    (("limits", "--chart", "ewma"), EQUAL, "they are all equal"),
    (("limits", "--chart", "cusum"), EQUAL, "they are all equal"),
    (("limits", "--chart", "cusum"), "x1,x2\n1,2\n2,\n", "checks of one size only"),
    (CAPABILITY, EQUAL, "all equal"),
    (CAPABILITY, "5\n", "too few subgroups"),
    ((*CAPABILITY, "--model", "rayleigh"), "-1\n2\n3\n4\n", "wants readings of 0 or more"),
    ((*CAPABILITY, "--model", "lognormal"), "0\n2\n3\n4\n", "wants readings above 0"),
    (
        (*CAPABILITY, "--model", "weibull"),
        "2\n0\n3\n0\n5\n",
        "2 of 5 pieces, first piece 2: the Weibull model",
    ),
    ((*CAPABILITY, "--model", "weibull"), "1\n2\n", "too few readings"),
    ((*CAPABILITY, "--model", "empirical"), "5\n5\n5\n5\n5\n1\n", "half of the readings or more are equal"),
    (("capability",), "1\n2\n3\n", "wants a tolerance limit"),
    (("capability", "--lower", "5", "--upper", "4"), "1\n2\n3\n", "lower limit is not below the upper"),
    (("capability", "--lower", "4", "--upper", "4"), "1\n2\n3\n", "lower limit is not below the upper"),
    (("capability", "--upper", "4", "--target", "9"), "1\n2\n3\n", "the target lies outside the limits"),
    (("capability", "--lower", "0", "--kind", "runout"), "1\n2\n3\n", "an upper limit, with --upper"),
    (("capability", "--upper", "9", "--kind", "visual"), "1\n2\n3\n", "a look has no capability index"),
]


@pytest.mark.parametrize(("command", "content", "says"), NO_ANSWER)
def test_no_answer(spc: Terminal, command: tuple[str, ...], content: str, says: str) -> None:
    said = asked(spc, content, *command)
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("odd", ["nan", "NaN", "inf", "-inf", "1e999", "#N/A", "--", "x"])
def test_a_cell_that_is_no_number_costs_itself_and_is_named(spc: Terminal, odd: str) -> None:
    rows = f"x1,x2,x3\n1.1,1.2,1.4\n{odd},1.3,1.1\n1.5,1.2,1.3\n"
    for command in (LIMITS, CAPABILITY):
        said = asked(spc, rows, *command)
        assert said.code == 2
        assert said.err.startswith("file.csv, row 3, x1: ")
        assert said.json["n"] == ([3, 2, 3] if command is LIMITS else 8)


def test_an_unreadable_cell_is_said_before_what_it_makes_impossible(spc: Terminal) -> None:
    said = asked(spc, "x1,x2\n1,2\nnan,3\n2,3\n", *LIMITS)
    assert said.code == 1
    first, second = said.err.splitlines()
    assert first.startswith("file.csv, row 3, x1: this stands for no number (got 'nan').")
    assert "one piece in subgroup 2" in second


HOURS = "".join(
    f"2026-03-02T{hour:02}:00,{machine},P-1,{name},{piece},{hour % 3 + piece / 7:.3f}\n"
    for hour in range(6, 12)
    for machine in ("M1", "M2")
    for name in ("bore", "length")
    for piece in (1, 2, 3)
)
NAMED = "time,machine,part,characteristic,piece,value\n" + HOURS


@pytest.mark.parametrize("command", [LIMITS, CAPABILITY])
def test_what_is_left_over_is_listed(spc: Terminal, command: tuple[str, ...]) -> None:
    said = asked(spc, NAMED, *command)
    assert (said.code, said.out) == (1, "")
    assert "more than one machine. Allowed: M1, M2. Pick one with --machine." in said.err
    assert "more than one characteristic. Allowed: bore, length. Pick one with --characteristic." in said.err
    picked = asked(spc, NAMED, *command, "--machine", "M1", "--characteristic", "bore")
    assert (picked.code, picked.json["subgroups"]) == (0, 6)


@pytest.mark.parametrize("command", [LIMITS, CAPABILITY])
@pytest.mark.parametrize(
    ("option", "allowed"), [("machine", "M1, M2"), ("part", "P-1"), ("characteristic", "bore, length")]
)
def test_no_such_name(spc: Terminal, command: tuple[str, ...], option: str, allowed: str) -> None:
    said = asked(spc, NAMED, *command, f"--{option}", "zz")
    assert (said.code, said.out) == (1, "")
    assert f"no row is of this {option} (got 'zz'). Allowed: {allowed}." in said.err


def test_a_name_that_a_bare_file_cannot_pick_is_said(spc: Terminal) -> None:
    said = spc(*LIMITS, "--readings", RINGS, "--part", "P-1", "--json")
    assert said.code == 0
    assert said.err == "The file has no column part: --part picked nothing, every row was taken.\n"


WRONG_USAGE = [
    ("limits", "--readings", RINGS),
    ("limits", "--chart", "xbar_r"),
    ("limits", "--chart", "pie", "--readings", RINGS),
    ("limits", "--chart", "xbar_r", "--readings", RINGS, "--target", "x"),
    ("limits", "--chart", "xbar_r", "--readings", RINGS, "--weight", "0.2"),
    ("limits", "--chart", "ewma", "--readings", RINGS, "--decision", "4"),
    ("limits", "--chart", "cusum", "--readings", RINGS, "--rules", "house"),
    ("limits", "--chart", "xbar_r", "--readings", RINGS, "--rules", "all"),
    ("capability", "--upper", "1"),
    ("capability", "--readings", RINGS, "--upper", "high"),
    ("capability", "--readings", RINGS, "--upper", "75", "--model", "cauchy"),
    ("capability", "--readings", RINGS, "--upper", "75", "--sigma-from", "guess"),
    ("capability", "--readings", RINGS, "--upper", "75", "--kind", "shape"),
    ("gauge-study", "--tolerance", "1"),
    ("gauge-study", "--readings", AIAG, "--tolerance", "wide"),
]


@pytest.mark.parametrize("command", WRONG_USAGE)
def test_wrong_usage(spc: Terminal, command: tuple[object, ...]) -> None:
    said = spc(*command)
    assert (said.code, said.out) == (64, "")
    assert f"See spc {command[0]} --help." in said.err
    assert len(said.err.splitlines()) == 1


@pytest.mark.parametrize("chart", ["ewma", "cusum"])
@pytest.mark.parametrize("rules", [name for name in CHART_RULES if name != "none"])
def test_run_rules_are_never_left_out_silently(spc: Terminal, chart: Plotted, rules: str) -> None:
    """A set of rules is refused on a chart that some of its rules do not suit; without them the chart answers."""
    assert any(chart not in rule.suits for rule in rule_set(rules))
    plain = ("limits", "--chart", chart, "--readings", RINGS)
    said = spc(*plain, "--rules", rules)
    assert (said.code, said.out) == (64, "")
    assert said.err == (
        f"spc limits: run rules read points that know nothing of each other, and {chart} has none: leave out "
        "--rules, or take --chart xbar_r, xbar_s, median_r or individuals. See spc limits --help.\n"
    )
    with_none, without = spc(*plain, "--rules", "none"), spc(*plain)
    assert with_none == without
    assert (without.code, without.err) == (0, "")


OUT_OF_RANGE = [
    ("limits", "--chart", "xbar_r", "--sigma", "0"),
    ("limits", "--chart", "xbar_r", "--sigma", "nan"),
    ("limits", "--chart", "xbar_r", "--sigma", "inf"),
    ("limits", "--chart", "xbar_r", "--target", "nan"),
    ("limits", "--chart", "ewma", "--weight", "0"),
    ("limits", "--chart", "ewma", "--weight", "1.01"),
    ("limits", "--chart", "ewma", "--width", "-1"),
    ("limits", "--chart", "cusum", "--slack", "-1"),
    ("limits", "--chart", "cusum", "--decision", "0"),
    ("capability", "--upper", "nan"),
    ("capability", "--upper", "inf"),
    ("capability", "--upper", "75", "--confidence", "1"),
    ("capability", "--upper", "75", "--confidence", "95"),
    ("capability", "--upper", "75", "--minimum", "0"),
]


@pytest.mark.parametrize("command", OUT_OF_RANGE)
def test_a_number_out_of_range(spc: Terminal, command: tuple[str, ...]) -> None:
    said = spc(*command, "--readings", RINGS)
    assert (said.code, said.out) == (1, "")
    assert "(got '" in said.err
    assert len(said.err.splitlines()) == 1


def rows_of_study(*keep: str, appraisers: str = "ABC") -> str:
    header, *rows = AIAG.read_text(encoding="utf-8").splitlines()
    picked = [row for row in rows if row[0] in appraisers and (not keep or row.split(",")[2] in keep)]
    return "\n".join([header, *picked]) + "\n"


STUDIES = [
    (
        rows_of_study().removesuffix("C,10,3,-2.16\n"),
        "part 10, appraiser C: this appraiser gauged this part less",
    ),
    (rows_of_study("1"), "too few trials"),
    (rows_of_study("1", appraisers="A"), "too few trials"),
    (rows_of_study() + "B,1,2,0.3\n", "appraiser B has part 1, trial 2 in row 6 already"),
    ("appraiser,part,trial,value\n", "no rows"),
    ("appraiser,part,value\nA,1,2\n", "header lacks trial"),
    ("appraiser,part,trial,value\nA,1,1,2.0\nA,1,2,2.1\n", "too few parts"),
    ("appraiser,part,trial,value\nA,1,1,2\nA,1,2,2\nA,2,1,2\nA,2,2,2\n", "all readings are equal"),
    (
        "appraiser,part,trial,value\nA,1,1,2\nA,1,2,2\nA,2,1,3\nA,2,2,3\n",
        "every repeat gave the same reading",
    ),
]


@pytest.mark.parametrize(("content", "says"), STUDIES)
def test_no_study(spc: Terminal, content: str, says: str) -> None:
    said = asked(spc, content, *STUDY)
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert len(said.err.splitlines()) == 1


def test_a_study_with_an_unreadable_reading_says_both(spc: Terminal) -> None:
    said = asked(spc, rows_of_study().replace("-2.16", "nan"), *STUDY)
    assert said.code == 1
    first, second = said.err.splitlines()
    assert "row 91, value: this stands for no number (got 'nan')" in first
    assert "less often than others" in second


def test_nothing_but_the_answer_is_loaded(tmp_path: Path) -> None:
    """An answer at a terminal loads no page, no picture and no reader of sheets."""
    script = (
        "import sys; from spc.cli import main; "
        f"main(['limits', '--chart', 'xbar_r', '--readings', {str(RINGS)!r}, '--json']); "
        "print({'streamlit', 'altair', 'pandas', 'openpyxl', 'sqlalchemy'} & set(sys.modules), file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", script],
        capture_output=True,
        text=True,
        check=True,
        cwd=tmp_path,
    )
    assert done.stderr.strip() == "set()"
    assert done.stdout.startswith('{"chart": "xbar_r"')
