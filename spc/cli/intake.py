"""`spc intake`: take files into the record."""

import argparse
from typing import TYPE_CHECKING

from spc.cli.parsing import Commands, add_db, add_files, command, db_of
from spc.cli.saying import complain, complain_of, progress, say_rows

if TYPE_CHECKING:
    from spc.station import FilesTaken

__all__ = ["add_to"]

_MARKED_SHOWN = 5
_MORE = """\
Safe to repeat: what is in already counts as taken and changes nothing. Refused rows hold up no others; the first
ones are said here, all of them go into the file of refusals. Readable but implausible values are taken as written,
marked, and left out of the model."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "intake",
        does="take plans, readings and events into the record",
        more=_MORE,
        example="  spc intake --plan demo_data --readings demo_data/readings.csv --events demo_data/events.csv",
        run=_run,
    )
    add_files(parser)
    parser.add_argument("--by", default="", metavar="NAME", help="who brings the files; kept with each fact")
    add_db(parser)


def _run(arguments: argparse.Namespace) -> int:
    from spc.cli.files import read_files, refusals_kept
    from spc.intake import write_refusals
    from spc.station import open_station

    with refusals_kept(arguments):
        station = open_station(db_of(arguments))
        try:
            plans, history = read_files(arguments, station.first_mounted)
            taken = station.take_history(plans, history, by=arguments.by, progress=progress)
        finally:
            station.close()
    if arguments.refusals is not None:
        write_refusals(arguments.refusals, taken.refusals)
    say_rows(_summary(taken, station.store.place))
    _say_marked(taken.marked)
    complain_of(taken.refusals)
    return taken.exit_code


def _say_marked(marked: tuple[str, ...]) -> None:
    """Say which checks went in as written although they are hard to believe."""
    if not marked:
        return
    checks = "1 check was" if len(marked) == 1 else f"{len(marked)} checks were"
    complain(f"{checks} taken as written but marked: hard to believe, so left out of the model.")
    for sentence in marked[:_MARKED_SHOWN]:
        complain(f"  {sentence}")
    if len(marked) > _MARKED_SHOWN:
        complain(f"  … and {len(marked) - _MARKED_SHOWN} more.")


def _summary(taken: "FilesTaken", place: str) -> list[tuple[str, str]]:
    return [
        ("record", place),
        ("rows taken", str(taken.taken)),
        ("rows already in", str(taken.already)),
        ("refused", str(len(taken.refusals))),
        ("checks judged", str(taken.checks)),
        ("checks marked", str(len(taken.marked))),
    ]
