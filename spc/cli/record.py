"""`spc record …`: prove, save and bring back the record."""

import argparse
from typing import TYPE_CHECKING

from spc.cli.parsing import Commands, add_db, command, db_of
from spc.cli.saying import complain, say_rows

if TYPE_CHECKING:
    from spc.store import LedgerReport

__all__ = ["add_to"]


def add_to(commands: Commands) -> None:
    """Add the command and those below it."""
    parser = command(
        commands,
        "record",
        does="prove, save or bring back the record",
        example="  spc record verify\n  spc record backup friday.sqlite",
    )
    verbs = parser.add_subparsers(metavar="what", required=True, title="what to do")
    _add_verify(verbs)
    _add_backup(verbs)
    _add_restore(verbs)


def _add_verify(verbs: Commands) -> None:
    parser = command(
        verbs,
        "verify",
        does="prove that every fact is as it was written",
        more="Note the last seal elsewhere: with it anybody can prove later that nothing before it was changed.\n"
        "A record that may not be written to, on a read-only disk or in an archive, is proved as well.",
        example="  spc record verify --db cell-4.sqlite",
        run=_verify,
    )
    add_db(parser)


def _verify(arguments: argparse.Namespace) -> int:
    from spc.cli.record_place import existing_record
    from spc.store import open_to_read, verify

    store = open_to_read(existing_record(db_of(arguments)))
    try:
        report = verify(store)
    finally:
        store.close()
    _tell(report, store.place)
    for broken in report.broken:
        complain(f"{store.place}: {broken.says}.")
    if not report.intact:
        complain(
            "Keep this file as it is, show it to whoever answers for the record, and use the last backup."
        )
    return 0 if report.intact else 1


def _add_backup(verbs: Commands) -> None:
    parser = command(
        verbs,
        "backup",
        does="save the record into one new file, proved after the copy",
        more="The station may go on running meanwhile. An older backup is never overwritten.",
        example="  spc record backup friday.sqlite",
        run=_backup,
    )
    parser.add_argument("file", metavar="FILE", help="a name that does not exist yet")
    add_db(parser)


def _backup(arguments: argparse.Namespace) -> int:
    from spc.cli.record_place import existing_record
    from spc.store import backup, open_store

    store = open_store(existing_record(db_of(arguments)))
    try:
        report = backup(store, arguments.file)
    finally:
        store.close()
    _tell(report, arguments.file)
    return 0


def _add_restore(verbs: Commands) -> None:
    parser = command(
        verbs,
        "restore",
        does="bring a backup back as the record, under a name that does not exist yet",
        more="A record is never overwritten: move the present one away first, or name another place with --db.",
        example="  spc record restore friday.sqlite --db cell-4-again.sqlite",
        run=_restore,
    )
    parser.add_argument("file", metavar="FILE", help="the backup")
    add_db(parser)


def _restore(arguments: argparse.Namespace) -> int:
    from spc.store import restore

    place = db_of(arguments)
    _tell(restore(arguments.file, place), place)
    return 0


def _tell(report: "LedgerReport", place: str) -> None:
    state = "every one is as it was written" if report.intact else "NOT as it was written"
    say_rows([("record", place), ("facts", f"{report.facts}, {state}"), ("last seal", report.last_link)])
