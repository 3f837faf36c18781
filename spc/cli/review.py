"""`spc review`: the shift and capability review of a part, as a file to sign or to read by program."""

import argparse
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from spc.cli.parsing import CommandParser, Commands, add_db, command, db_of
from spc.cli.saying import progress, say
from spc.errors import Refused

if TYPE_CHECKING:
    from spc.shop import Plan
    from spc.station import Station

__all__ = ["add_to"]

FORMS = (".pdf", ".html", ".xlsx", ".json")

_MORE = """\
Times are the plant's. A date alone means its whole day: --from 2026-03-02 --to 2026-03-06 is Monday to Friday.
Without a period: from the first thing logged until now. Without --machine: every machine the part was checked on."""


def add_to(commands: Commands) -> None:
    """Add the command."""
    parser = command(
        commands,
        "review",
        does="write the shift and capability review of a part",
        more=_MORE,
        example="  spc review --part KS-24 --machine R1 --from 2026-03-02 --to 2026-03-06 --out week-10.html",
        run=_run,
    )
    parser.add_argument("--part", required=True, metavar="ID", help="the part, as its plan names it")
    parser.add_argument("--machine", metavar="ID", help="one machine (default: all it was checked on)")
    parser.add_argument("--from", dest="start", metavar="TIME", help="2026-03-02 or 2026-03-02T06:00")
    parser.add_argument("--to", dest="end", metavar="TIME", help="before this time; of a date, to its end")
    parser.add_argument("--shift", metavar="HH:MM", help="one shift, by the time it begins (default: all)")
    parser.add_argument("--out", required=True, metavar="FILE", help=f"ends in {', '.join(FORMS)}")
    add_db(parser)


def _run(arguments: argparse.Namespace) -> int:
    parser: CommandParser = arguments.parser
    if Path(arguments.out).suffix.lower() not in FORMS:
        parser.error(f"argument --out: {arguments.out!r} names no form; allowed endings: {', '.join(FORMS)}")

    from spc.cli.record_place import existing_record
    from spc.reports import write_review
    from spc.station import open_station

    station = open_station(existing_record(db_of(arguments)))
    try:
        plan = _plan(station, arguments.part)
        start, end = _moment(arguments.start, plan.zone, "--from"), _moment(arguments.end, plan.zone, "--to")
        reviews = []
        for machine in _machines(station, plan.part, arguments.machine):
            progress(f"reviewing {plan.part} on {machine}")
            reviews.append(station.review(plan.part, machine, start, end, arguments.shift))
        written = write_review(arguments.out, [each for each in reviews if each.from_time is not None])
    finally:
        station.close()
    say(
        f"{written}: {plan.part} on {', '.join(each.machine for each in reviews if each.from_time is not None)}."
    )
    return 0


def _plan(station: "Station", part: str) -> "Plan":
    plans = {plan.part: plan for plan in station.plans()}
    if part not in plans:
        raise Refused.one(
            "the record has no such part",
            value=part,
            column="--part",
            allowed=", ".join(sorted(plans)) or "nothing yet: the record is empty",
        )
    return plans[part]


def _machines(station: "Station", part: str, wanted: str | None) -> tuple[str, ...]:
    machines = station.machines(part)
    if wanted is None:
        return machines
    if wanted not in machines:
        raise Refused.one(
            f"{part} has no such machine", value=wanted, column="--machine", allowed=", ".join(machines)
        )
    return (wanted,)


def _moment(text: str | None, zone: str, option: str) -> datetime | None:
    """Read a time of the plant; a date alone is its beginning, and for `--to` its end."""
    from spc.intake.moments import read_moment
    from spc.shop.moment import to_utc

    if text is None:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is not None:
        day += timedelta(days=option == "--to")
        return to_utc(datetime(day.year, day.month, day.day), zone)  # noqa: DTZ001  # plant time, zoned here
    try:
        return read_moment(text, zone)
    except Refused as refused:
        reason = refused.refusals[0].reason
        raise Refused.one(
            reason, value=text, column=option, allowed="2026-03-02 or 2026-03-02T06:00"
        ) from None
