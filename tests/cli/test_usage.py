"""How a command is called: help with an example, 64 on wrong usage, and a quick answer to --help."""

import subprocess
import sys
from pathlib import Path

import pytest
from terminal import GOOD, RINGS, Terminal, check_row

from spc.cli import build_parser

COMMANDS = (
    "station",
    "intake",
    "replay",
    "review",
    "simulate",
    "limits",
    "capability",
    "gauge-study",
    "size over-pin",
    "size over-wire",
    "size travel",
    "size straightness",
    "record verify",
    "record backup",
    "record restore",
)
TOUCHING_THE_RECORD = {
    "station",
    "intake",
    "review",
    "record verify",
    "record backup",
    "record restore",
}


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself_with_an_example(spc: Terminal, command: str) -> None:
    said = spc(*command.split(), "--help")
    assert said.code == 0
    example = said.out.partition("example:\n")[2]
    assert f"spc {command}" in example
    assert ("--db" in said.out) == (command in TOUCHING_THE_RECORD)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_example_of_every_command_parses(spc: Terminal, command: str) -> None:
    lines = spc(*command.split(), "--help").out.partition("example:\n")[2].splitlines()
    for line in lines:
        assert callable(build_parser().parse_args(line.split()[1:]).run)


@pytest.mark.parametrize(
    "wrong",
    [
        "",
        "stattion",
        "size",
        "record",
        "record forget",
        "intake --plan plan.toml",
        "replay --plan a --readings b --db c",
        "limits --readings a.csv",
        "limits --readings a.csv --chart p_chart",
        "limits --readings a.csv --chart xbar_r --rules all",
        "limits --readings a.csv --chart xbar_r --weight 0.2",
        "limits --readings a.csv --chart ewma --decision 5",
        "limits --readings a.csv --chart cusum --rules house",
        "limits --readings a.csv --chart ewma --sigma small",
        "limits --readings a.csv --char ewma",
        "capability --readings a.csv --upper 1 --model bell",
        "capability --readings a.csv --upper 1 --kind length",
        "station --port 0",
        "station --port 70000",
        "station --demo --db here.sqlite",
        "simulate --out x --days 0",
        "simulate --out x --seed -1",
        "review --part P-31 --out review.docx",
        "size over-pin --module 1 --teeth 20 --pressure-angle 20 --pin 1.7",
        "size over-pin --module 1 --teeth 20 --pressure-angle 20 --pin 1.7 --over-pin 22 --tooth-thickness 1",
        "size over-wire --pitch 1.5 --angle 60 --pitch-diameter 9 --textbook",
    ],
)
def test_wrong_usage_ends_with_64_and_one_line(spc: Terminal, wrong: str) -> None:
    said = spc(*wrong.split())
    assert said.code == 64  # EX_USAGE of sysexits.h
    assert said.out == ""
    assert said.err.startswith("spc")
    assert "--help" in said.err
    assert len(said.err.splitlines()) == 1


def test_help_wakes_no_heavy_room() -> None:
    script = (
        "import sys, contextlib, io\nfrom spc.cli import main\n"
        "with contextlib.redirect_stdout(io.StringIO()): code = main(['--help'])\n"
        "heavy = {'numpy', 'scipy', 'pandas', 'sqlalchemy', 'streamlit', 'altair'} & set(sys.modules)\n"
        "sys.exit(f'{code} {heavy}' if code or heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_the_module_is_the_command(spc: Terminal) -> None:
    asked = ["limits", "--chart", "xbar_r", "--readings", str(RINGS), "--json"]
    done = subprocess.run([sys.executable, "-m", "spc", *asked], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == spc(*asked).out


def test_the_module_ends_with_the_code_of_wrong_usage_and_of_failure(tmp_path: Path) -> None:
    for asked, code in ((["frobnicate"], 64), (["limits", "--chart", "xbar_r", "--readings", "none.csv"], 1)):
        done = subprocess.run(
            [sys.executable, "-m", "spc", *asked], capture_output=True, text=True, check=False, cwd=tmp_path
        )
        assert (done.returncode, done.stdout) == (code, "")
        assert "Traceback" not in done.stderr


def test_a_terminal_without_greek_letters_still_gets_its_answer(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "spc", "limits", "--chart", "xbar_r", "--readings", str(RINGS)],
        capture_output=True,
        check=False,
        env={"PYTHONIOENCODING": "ascii", "PATH": ""},
        cwd=tmp_path,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"\\u03c3 of one piece" in done.stdout


def test_the_record_is_named_by_option_then_environment_then_folder(
    spc: Terminal, monkeypatch: pytest.MonkeyPatch
) -> None:
    spc.write(check_row(9, GOOD))
    assert spc("intake", *spc.files()).code == 0
    assert (spc.folder / "spc-record.sqlite").exists()
    monkeypatch.setenv("SPC_DB", str(spc.folder / "named.sqlite"))
    assert spc("intake", *spc.files()).code == 0
    assert (spc.folder / "named.sqlite").exists()
    assert spc.intake().code == 0
    assert spc.record.exists()
