"""What `limits` and `capability` share: one file, one characteristic of it, and what is said of its rows."""

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from spc.cli.saying import complain, complain_of
from spc.errors import Refused

if TYPE_CHECKING:
    from spc.intake import SubgroupsRead

__all__ = ["exit_code", "read_picked", "rows_said_too"]

_NAMES = ("machine", "part", "characteristic")


def read_picked(arguments: argparse.Namespace) -> "SubgroupsRead":
    """Read the subgroups of `--readings` that `--machine`, `--part` and `--characteristic` pick.

    Raises
    ------
    Refused
        As `read_subgroups`.
    """
    from spc.intake import read_subgroups

    return read_subgroups(arguments.readings, *(getattr(arguments, name) for name in _NAMES))


@contextmanager
def rows_said_too(read: "SubgroupsRead") -> Iterator[None]:
    """Say unreadable rows before a refusal of what is left: they may be why it is too little.

    Raises
    ------
    Refused
        What the block refuses, behind what the file was refused for.
    """
    try:
        yield
    except Refused as refused:
        raise Refused((*read.refusals, *refused.refusals)) from None


def exit_code(read: "SubgroupsRead", arguments: argparse.Namespace) -> int:
    """Say on stderr what was left out or refused, and return how the command ends: 2 if anything was refused."""
    if read.left_out_rows:
        rows = "1 row" if read.left_out_rows == 1 else f"{read.left_out_rows} rows"
        complain(f"Left out: {rows} of checks that were not hourly.")
    for name in _NAMES:
        if getattr(arguments, name) is not None and getattr(read, name) is None:
            complain(f"The file has no column {name}: --{name} picked nothing, every row was taken.")
    complain_of(read.refusals)
    return 2 if read.refusals else 0
