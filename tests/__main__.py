"""Run every check of the project: ``python -m tests``, or ``python -m tests --quick`` without the browser.

The order is format, lint, types, tests. A step that fails doesn't keep the later ones from running, so one
run shows everything; the exit code is non-zero when any step failed. pytest comes last, so that its closing
line is the last thing printed.
"""

import argparse
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def main(arguments: list[str] | None = None) -> int:
    """Run the steps one after the other and return the exit code for the shell."""
    parser = argparse.ArgumentParser(prog="python -m tests", description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="leave the browser tests out")
    quick = parser.parse_args(arguments).quick
    before = [
        ("format", ["ruff", "format", "--check", "."]),
        ("lint", ["ruff", "check", "."]),
        ("types", ["mypy"]),
    ]
    failed = [name for name, command in before if not passes(name, command)]
    if failed:
        print(f"== failed so far: {', '.join(failed)}", flush=True)
    tested = passes("tests", ["pytest", *(["-m", "not browser"] if quick else [])])
    return 0 if tested and not failed else 1


def passes(name: str, command: list[str]) -> bool:
    """Run one tool of this Python from the project's folder and say whether it was content."""
    print(f"== {name}: {' '.join(command)}", flush=True)
    return subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False).returncode == 0


if __name__ == "__main__":
    sys.exit(main())
