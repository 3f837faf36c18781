"""`spc station`: open the pages."""

import argparse

from spc.cli.parsing import CommandParser, Commands, add_db, command, db_of

__all__ = ["add_to"]

_MORE = """\
The pages are served on this machine only and open in any browser on it. Ctrl-C ends the station; what was
saved is in the record."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "station",
        does="open the station's pages in the browser",
        more=_MORE,
        example="  spc station --demo\n  spc station --db cell-4.sqlite --port 8600",
        run=_run,
    )
    parser.add_argument(
        "--demo",
        action="store_true",
        help="show an invented shop from a temporary record of its own, which is gone afterwards",
    )
    parser.add_argument("--port", type=_port, metavar="N", help="port of the pages, 1 to 65535")
    add_db(parser)


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= 65535:
        msg = f"{text!r} is no port; allowed: 1 to 65535"
        raise argparse.ArgumentTypeError(msg)
    return int(text)


def _run(arguments: argparse.Namespace) -> int:
    parser: CommandParser = arguments.parser
    if arguments.demo and arguments.db is not None:
        parser.error("--demo uses a record of its own; leave out --db, or leave out --demo")

    from spc.pages.launch import launch

    return launch(None if arguments.demo else db_of(arguments), arguments.port, arguments.demo)
