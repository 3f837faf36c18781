"""`spc simulate`: files of a make-believe shop, to try the station with."""

import argparse
from pathlib import Path

from spc.cli.parsing import Commands, command
from spc.cli.saying import progress, say

__all__ = ["add_to"]

_SEED = 20260302
_MORE = """\
An invented shop: three machines, four parts, their die sets, bars, people and mistakes. The same seed writes the
same bytes on any machine. truth.json holds what nobody in a real shop would know."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "simulate",
        does="write the files of an invented shop: plans, readings, events, and the truth behind them",
        more=_MORE,
        example="  spc simulate --out invented --days 5 --part KS-24",
        run=_run,
    )
    parser.add_argument(
        "--out", required=True, metavar="FOLDER", help="made if missing; files of the same name are replaced"
    )
    parser.add_argument(
        "--seed", type=_whole(0), default=_SEED, metavar="N", help=f"0 or more (default: {_SEED})"
    )
    parser.add_argument(
        "--days", type=_whole(1), default=20, metavar="N", help="working days, 1 or more (default: 20)"
    )
    parser.add_argument(
        "--part", action="append", default=[], metavar="ID", help="keep this part only; may be repeated"
    )


class _whole:  # noqa: N801  # reads as a word where it is used: type=_whole(1)
    """A whole number of at least `least`, as argparse asks for it."""

    def __init__(self, least: int) -> None:
        self.least = least

    def __call__(self, text: str) -> int:
        if not text.isascii() or not text.isdigit() or int(text) < self.least:
            msg = f"{text!r} is no whole number of {self.least} or more"
            raise argparse.ArgumentTypeError(msg)
        return int(text)


def _run(arguments: argparse.Namespace) -> int:
    from spc.errors import Refused
    from spc.simulator import demo_part_ids, simulate_to_folder

    parts = demo_part_ids()
    strangers = [part for part in arguments.part if part not in parts]
    if strangers:
        raise Refused.one(
            "the invented shop has no such part",
            value=", ".join(strangers),
            column="--part",
            allowed=", ".join(parts),
        )
    folder = Path(arguments.out)
    progress(f"simulating {arguments.days} working days")
    try:
        simulate_to_folder(folder, arguments.seed, days=arguments.days, parts=tuple(arguments.part))
    except OSError as error:
        reason = f"the files cannot be written: {error.strerror or error}"
        raise Refused.one(reason, file=str(folder), allowed="a folder this user may write to") from None
    say(
        f"{folder}: plan-*.toml, readings.csv, events.csv, truth.json; {arguments.days} working days invented."
    )
    return 0
