"""The files of a history, read for the commands that take it in or replay it."""

import argparse
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from spc.cli.saying import progress
from spc.errors import Refused
from spc.intake import HistoryRead, read_events, read_history, read_plans, write_refusals
from spc.shop import Plan

__all__ = ["read_files", "refusals_kept"]

Mounted = Callable[[Sequence[str]], Mapping[str, datetime]]


@contextmanager
def refusals_kept(arguments: argparse.Namespace) -> Iterator[None]:
    """Open the file of refusals first, so that nothing is taken when it cannot be written.

    A file that is refused as a whole goes into it as well.

    Raises
    ------
    Refused
        The file cannot be written, or an output bears the name of an input.
    """
    _refuse_own_input(arguments)
    file = arguments.refusals
    if file is None:
        yield
        return
    write_refusals(file, ())
    try:
        yield
    except Refused as refused:
        write_refusals(file, refused.refusals)
        raise


def read_files(
    arguments: argparse.Namespace, mounted: Mounted | None = None
) -> tuple[tuple[Plan, ...], HistoryRead]:
    """Read plans, readings and events.

    Parameters
    ----------
    mounted : callable or None
        Asked, for the machines on which the file mounts a die set, when the record first saw one mounted:
        checks between that and the file's own first mounting are then no strangers.
    """
    progress("reading the plans")
    plans = read_plans(arguments.plan)
    known: Mapping[str, datetime] = {}
    if mounted is not None and arguments.events is not None:
        events = read_events(arguments.events, plans).events
        known = mounted(sorted({each.machine for each in events if each.event == "die_set_mounted"}))
    progress("reading the readings and events")
    return plans, read_history(plans, arguments.readings, arguments.events, known)


def _refuse_own_input(arguments: argparse.Namespace) -> None:
    """Refuse an output that would be written over what is to be read."""
    inputs = [*arguments.plan, arguments.readings, arguments.events]
    read = {Path(each).resolve() for each in inputs if each is not None}
    for option in ("refusals", "out"):
        file = getattr(arguments, option, None)
        if file is not None and Path(file).resolve() in read:
            raise Refused.one(
                "this would be written over a file that is to be read",
                file=file,
                column=f"--{option}",
                allowed="a name of its own",
            )
