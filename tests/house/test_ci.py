"""What the continuous check promises: one command, the same as in the README, and a browser that is there."""

import os
import re
import runpy
import shutil
import subprocess
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
RUN = PROJECT / ".ci" / "run"
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")  # as the browser tests look for them


def test_the_script_is_executable_and_stops_at_the_first_failure() -> None:
    assert os.access(RUN, os.X_OK)
    lines = RUN.read_text(encoding="utf-8").splitlines()
    assert lines[0].endswith("bash")
    assert "set -eu" in lines
    assert lines[-1].endswith(".venv/bin/python -m tests")


def test_the_script_is_sound_bash() -> None:
    checked = subprocess.run(["bash", "-n", str(RUN)], capture_output=True, text=True, check=False)
    assert (checked.returncode, checked.stderr) == (0, "")


def test_the_script_names_no_host() -> None:
    assert not re.search(
        r"https?://|--index-url|--extra-index|\.(org|com|io)\b", RUN.read_text(encoding="utf-8")
    )


def test_the_continuous_check_has_a_browser() -> None:
    """At a desk a missing browser only leaves the browser tests out; where `CI` is set it is a failure."""
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    assert found or not os.environ.get("CI"), f"CI is set and no browser is installed; looked for {BROWSERS}"


def test_the_licence_is_there() -> None:
    assert "MIT" in (PROJECT / "LICENSE").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("failing", "code"), [(set(), 0), ({"ruff"}, 1), ({"mypy"}, 1), ({"pytest"}, 1), ({"ruff", "mypy"}, 1)]
)
@pytest.mark.parametrize("options", [[], ["--quick"]])
def test_one_command_runs_every_check_and_pytest_last(
    failing: set[str], code: int, options: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    ran: list[list[str]] = []

    def tool(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        ran.append(command[2:])
        return subprocess.CompletedProcess(command, int(command[2] in failing))

    main = runpy.run_path(str(PROJECT / "tests" / "__main__.py"))["main"]
    monkeypatch.setattr(subprocess, "run", tool)
    assert main(options) == code
    assert [words[0] for words in ran] == ["ruff", "ruff", "mypy", "pytest"]
    assert ran[-1] == (["pytest", "-m", "not browser"] if options else ["pytest"])
