"""`spc replay`: judge a history check by check exactly as if live, touching no record."""

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path

from spc.cli.parsing import Commands, add_files, command
from spc.cli.saying import complain_of, json_text, progress, say_json
from spc.errors import Refused

__all__ = ["add_to"]

_MORE = """\
Writes one JSON line a check, in time order: verdict, reasons, the move to make, pieces to hold back, die life.
No record is read or written. Refused rows hold up no others; the first ones are said on stderr."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "replay",
        does="judge a history check by check as if live, touching no record",
        more=_MORE,
        example="  spc replay --plan demo_data --readings demo_data/readings.csv --events demo_data/events.csv "
        "--out verdicts.jsonl",
        run=_run,
    )
    add_files(parser)
    parser.add_argument("--out", metavar="FILE", help="where the JSON lines go (default: stdout)")


def _run(arguments: argparse.Namespace) -> int:
    from spc.intake.collector import collector_paused

    with collector_paused():
        return _judge(arguments)


def _judge(arguments: argparse.Namespace) -> int:
    from spc.cli.files import read_files, refusals_kept
    from spc.intake import write_refusals
    from spc.station import replay, verdict_line

    with refusals_kept(arguments):
        if arguments.out is not None:
            _write(arguments.out, ())
        plans, history = read_files(arguments)
    if arguments.refusals is not None:
        write_refusals(arguments.refusals, history.refusals)
    progress(f"judging {len(history.checks)} checks")
    lines = map(verdict_line, replay(plans, history.checks, history.events))
    if arguments.out is not None:
        _write(arguments.out, (json_text(line) for line in lines))
    else:
        for line in lines:
            say_json(line)
        sys.stdout.flush()
    complain_of(history.refusals)
    if not history.refusals:
        return 0
    return 2 if history.accepted_rows else 1


def _write(file: str, lines: Iterable[str]) -> None:
    try:
        with Path(file).open("w", encoding="utf-8", newline="\n") as out:
            out.writelines(f"{line}\n" for line in lines)
    except OSError as error:
        reason = f"the verdicts cannot be written: {error.strerror or error}"
        raise Refused.one(reason, file=file, allowed="a path in a folder that exists") from None
