"""What all commands share on their command line: wrong usage ends with 64, options are spelled once."""

import argparse
import os
from collections.abc import Callable
from typing import Any, NoReturn

from spc.settings import read_settings

__all__ = [
    "USAGE_ERROR",
    "Commands",
    "CommandParser",
    "add_db",
    "add_files",
    "add_number",
    "add_pick",
    "command",
    "db_of",
]

USAGE_ERROR = 64
"""`EX_USAGE` of sysexits.h; argparse alone would end with 2, which means "some rows refused" here."""

Commands = Any  # argparse keeps the type of what `add_subparsers` returns to itself


class CommandParser(argparse.ArgumentParser):
    """A parser whose wrong usage ends with 64 and whose options are never guessed from a beginning."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs.setdefault("allow_abbrev", False)
        super().__init__(*args, **kwargs)

    def error(self, message: str) -> NoReturn:
        """End with one paragraph and the code of wrong usage."""
        self.exit(USAGE_ERROR, f"{self.prog}: {message}. See {self.prog} --help.\n")


def command(
    commands: Commands,
    name: str,
    *,
    does: str,
    more: str = "",
    example: str,
    run: Callable[[argparse.Namespace], int] | None = None,
) -> CommandParser:
    """Add one command with its help, for the file of that command.

    Parameters
    ----------
    commands : what `add_subparsers` returned
    does : str
        One line for the list of commands.
    more : str
        What the help adds to it.
    example : str
        One or more command lines.
    run : callable or None
        Takes the parsed arguments, returns the exit code; None where commands follow below it.
    """
    parser: CommandParser = commands.add_parser(
        name,
        help=does,
        description=f"{does[0].upper()}{does[1:]}.\n\n{more}".strip(),
        epilog=f"example:\n{example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    if run is not None:
        parser.set_defaults(run=run, parser=parser)
    return parser


def add_db(parser: CommandParser) -> None:
    """Add `--db`, as on every command that touches the record."""
    parser.add_argument(
        "--db",
        metavar="URL",
        help="path or URL of the record (default: $SPC_DB, else spc-record.sqlite in the current folder)",
    )


def db_of(arguments: argparse.Namespace) -> str:
    """Return where the record lies: `--db`, else the environment, else the current folder."""
    return read_settings(os.environ, arguments.db).db


def add_files(parser: CommandParser) -> None:
    """Add plans, readings, events and the file of refusals."""
    parser.add_argument(
        "--plan",
        action="append",
        required=True,
        metavar="PLAN",
        help="plan.toml of one part, or a folder with plan*.toml; may be repeated",
    )
    parser.add_argument("--readings", required=True, metavar="FILE", help="readings.csv, or an XLSX like it")
    parser.add_argument("--events", metavar="FILE", help="events.csv: what was done at the machines")
    parser.add_argument(
        "--refusals",
        metavar="FILE",
        help="write what was refused as CSV: file,row,column,value,reason,allowed",
    )


def add_number(parser: Any, name: str, means: str, *, needed: bool = False) -> None:
    """Add a number, to a parser or to a group of which one is needed (which takes no `required` of its own)."""
    needs = {"required": True} if needed else {}
    parser.add_argument(name, type=float, metavar="X", help=means, **needs)


def add_pick(parser: CommandParser) -> None:
    """Add the file of a one-off answer and what picks one characteristic of it."""
    parser.add_argument(
        "--readings",
        required=True,
        metavar="FILE",
        help="readings.csv, or a bare CSV: header x1 … xn and one subgroup a row, or one column of single pieces",
    )
    parser.add_argument("--machine", metavar="ID", help="which machine, where the file holds several")
    parser.add_argument("--part", metavar="ID", help="which part, where the file holds several")
    parser.add_argument(
        "--characteristic", metavar="NAME", help="which characteristic, where the file holds several"
    )
    parser.add_argument("--json", action="store_true", help="answer as one JSON object for another program")
