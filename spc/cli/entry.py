"""The command `spc`: find the command meant, run it, and let no error out but as a readable paragraph."""

import argparse
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path

from spc.cli import capability, gauge_study, intake, limits, record, replay, review, simulate, size, station
from spc.cli.parsing import USAGE_ERROR, CommandParser
from spc.cli.saying import complain, complain_of, speak_any_letter
from spc.errors import Refused

__all__ = ["build_parser", "main"]

_FAILED = 1
_COMMANDS = (station, intake, replay, review, simulate, limits, capability, gauge_study, size, record)

_DESCRIPTION = """\
Statistical process control for form-rolled parts, from a terminal.

The station gives statistics only: it sends no setting to a machine and releases no parts by itself.
Local law, the machine maker's manual, the plant's rules and qualified persons come first."""

_ENDING = """\
Exit codes: 0 all taken or already in; 2 some rows refused; 1 nothing taken, or failed; 64 wrong usage.
The record is $SPC_DB, else spc-record.sqlite in the current folder; --db names another.

example:
  spc station --demo"""


def build_parser() -> CommandParser:
    """Build the parser of every command, for `main` and for whoever checks what a document promises."""
    parser = CommandParser(
        prog="spc",
        description=_DESCRIPTION,
        epilog=_ENDING,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    commands = parser.add_subparsers(metavar="command", required=True, title="commands")
    for command in _COMMANDS:
        command.add_to(commands)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command for a person at a terminal or another program.

    Parameters
    ----------
    argv : sequence of str or None
        Arguments without the program's name; default those of the process.

    Returns
    -------
    int
        0 all taken or already in, 2 some rows refused, 1 nothing taken or failed, 64 wrong usage.
    """
    speak_any_letter()
    try:
        arguments = build_parser().parse_args(argv)
    except SystemExit as end:  # argparse ends the program after --help and after wrong usage
        return end.code if isinstance(end.code, int) else USAGE_ERROR
    run: Callable[[argparse.Namespace], int] = arguments.run
    try:
        return run(arguments)
    except SystemExit as end:  # a command found its arguments at odds with each other
        return end.code if isinstance(end.code, int) else USAGE_ERROR
    except Refused as refused:
        complain_of(refused.refusals)
    except BrokenPipeError:  # the reader of the output went away: nothing left to say, and nowhere to say it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        complain("Stopped. What was not finished was not taken.")
    except OSError as error:
        complain(
            f"{error.filename or 'The system'}: {error.strerror or error}. Check the name and the rights."
        )
    except Exception as error:  # never a traceback: name the place instead
        complain(_as_paragraph(error))
    return _FAILED


def _as_paragraph(error: Exception) -> str:
    """Say where the program itself went wrong, in one paragraph."""
    frame = traceback.extract_tb(error.__traceback__)[-1]
    place = f"{Path(frame.filename).name}, line {frame.lineno}"
    said = " ".join(str(error).split())
    return (
        f"The program made a mistake: {type(error).__name__} in {place}: {said}. Nothing half done was kept. "
        "Please pass this paragraph on, with the command and the files that led here."
    )
