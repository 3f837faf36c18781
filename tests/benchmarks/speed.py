"""How long a replay takes beside the least that any program must do with the same file.

    python -m tests.benchmarks.speed [checks] [rounds]

Whole processes, in turns: `spc replay` of 20,000 checks (3 characteristics of 5 pieces), and a process that
reads the same readings with pandas, parses their times and averages them by subgroup. Processor seconds stand
beside the clock, for a machine with other work to do. Then, inside one process, how the time of a replay
parts into importing, reading, judging and writing.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.speed_history import write_history

ROOT = Path(__file__).resolve().parents[2]
CHECKS, ROUNDS = 20_000, 3

PANDAS = """
import sys
import pandas as pd
rows = pd.read_csv(sys.argv[1])
rows["time"] = pd.to_datetime(rows["time"])
means = rows.groupby(["time", "machine", "part", "characteristic"])["value"].mean()
print(len(means))
"""

PARTS = """
import sys, time
marks = [("starting", time.process_time())]
def mark(name): marks.append((name, time.process_time()))
from spc.cli import replay as command
from spc.cli.saying import json_text
from spc.intake.collector import collector_paused
from spc.intake.plan_file import read_plans
from spc.intake.together import read_history
from spc.shop.verdict_line import verdict_line
from spc.station.replay import replay
mark("importing")
folder = sys.argv[1]
with collector_paused():
    plans = read_plans([folder + "/plan.toml"])
    history = read_history(plans, folder + "/readings.csv", folder + "/events.csv")
    mark("reading")
    verdicts = replay(plans, history.checks, history.events)
    mark("judging")
    with open(folder + "/parts.jsonl", "w", encoding="utf-8") as out:
        out.writelines(json_text(verdict_line(each)) + "\\n" for each in verdicts)
    mark("writing")
for (_, before), (name, after) in zip(marks, marks[1:]):
    print(name, after - before)
"""


@dataclass(frozen=True, slots=True)
class Took:
    """What a process took: by the clock, and of a processor."""

    clock_s: float
    processor_s: float


def main(arguments: list[str] | None = None) -> int:
    """Measure and print."""
    given = [int(each) for each in (sys.argv[1:] if arguments is None else arguments)]
    checks, rounds = (given + [CHECKS, ROUNDS][len(given) :])[:2]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_history(folder, checks)
        replays, reads = [], []
        for _ in range(rounds):
            reads.append(_took(["-c", PANDAS, str(folder / "readings.csv")]))
            replays.append(_took(_replay(folder)))
        print(f"{checks} checks, {15 * checks} rows, {rounds} rounds: median, and least in brackets")
        _say("clock", [each.clock_s for each in replays], [each.clock_s for each in reads])
        _say("processor", [each.processor_s for each in replays], [each.processor_s for each in reads])
        parts = subprocess.run(
            [sys.executable, "-c", PARTS, name], cwd=ROOT, check=True, capture_output=True, text=True
        )
    for line in parts.stdout.splitlines():
        what, seconds = line.split()
        print(f"{what:10} {float(seconds):6.2f} s, {1000 * float(seconds) / checks:.3f} ms a check")
    return 0


def _replay(folder: Path) -> list[str]:
    files = {"plan": "plan.toml", "readings": "readings.csv", "events": "events.csv", "out": "verdicts.jsonl"}
    return ["-m", "spc", "replay", *(f"--{option}={folder / file}" for option, file in files.items())]


def _took(command: list[str]) -> Took:
    before, start = os.times(), time.perf_counter()
    subprocess.run([sys.executable, *command], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    clock, after = time.perf_counter() - start, os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return Took(clock, used)


def _say(what: str, replays: list[float], reads: list[float]) -> None:
    ratios = [a / b for a, b in zip(replays, reads, strict=True)]
    shown = "   ".join(
        f"{name} {statistics.median(each):.2f} ({min(each):.2f}) {unit}"
        for name, each, unit in (("pandas", reads, "s"), ("replay", replays, "s"), ("ratio", ratios, ""))
    )
    print(f"{what:10} {shown}")


if __name__ == "__main__":
    sys.exit(main())
