"""events.csv and its XLSX twin: what was done at the machines."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from spc.errors import Refusal, Refused
from spc.intake.event_value import NUMBERS, event_name, event_value
from spc.intake.moments import AS_TIME, FileMoments, Placed
from spc.intake.named import Named
from spc.intake.number import NumberStyle, read_whole
from spc.intake.number_style import settle_style
from spc.intake.problem import Problem
from spc.intake.source import Source
from spc.intake.table_file import TableRead, read_table, refuse_unknown_columns
from spc.shop.facts import EventLogged
from spc.shop.layouts import EVENT_COLUMNS
from spc.shop.plan import Plan

__all__ = ["EventsRead", "read_event_row", "read_events"]

NEEDED: Final = "time, machine, event, value (also part, note, counter, form, operator)"
_MUST: Final = ("time", "machine", "event", "value")
Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class EventsRead:
    """What an events file gave; a row that repeats an earlier one counts as taken.

    Attributes
    ----------
    events : tuple of EventLogged
        In file order.
    """

    file: str
    events: tuple[EventLogged, ...]
    rows: int
    accepted_rows: int
    refusals: tuple[Refusal, ...]


def read_events(source: Source, plans: Sequence[Plan]) -> EventsRead:
    """Read a file of machine events for whoever takes it in or replays it.

    Parameters
    ----------
    source : path, or (name, bytes)
        CSV or XLSX with the columns of `layouts.EVENT_COLUMNS` in any order and case.
    plans : sequence of Plan
        One a part; they know parts, machines, the zone, and more words for a removal.

    Raises
    ------
    Refused
        The file cannot be opened, is no table, or lacks a needed column.
    """
    table = read_table(source, EVENT_COLUMNS.__contains__, NEEDED)
    missing = [name for name in _MUST if name not in table.columns]
    if missing:
        reason = f"the header lacks {', '.join(missing)}"
        raise Refused.one(reason, file=table.file, row=table.header_row, column=missing[0], allowed=NEEDED)
    refuse_unknown_columns(table, EVENT_COLUMNS.__contains__, EVENT_COLUMNS)
    style = settle_style(_numbers(table), table.separator) if table.may_hold_commas else "point"
    named, moments = Named(plans), FileMoments()
    events: dict[tuple[object, ...], EventLogged] = {}
    refusals = list(table.refusals)
    accepted = 0
    for row, given in table.rows:
        found = read_event_row(_named_cells(table, given), named, moments, style, table.file, row)
        if isinstance(found, EventLogged):
            events.setdefault((found.time, found.machine, found.part, found.event, found.value), found)
            accepted += 1
        else:
            refusals += [problem.at(table.file, row) for problem in found]
    refusals.sort(key=lambda refusal: refusal.row or 0)
    return EventsRead(table.file, tuple(events.values()), len(table.rows), accepted, tuple(refusals))


def read_event_row(
    cells: Cells,
    named: Named,
    moments: FileMoments,
    style: NumberStyle | None,
    source: str,
    row: int | None = None,
) -> EventLogged | list[Problem]:
    """Turn the cells of one event into a fact, or into everything that is wrong with them."""
    machine, part, note = (cells.get(column, "") for column in ("machine", "part", "note"))
    plan = named.part(part) if part else None
    known = None if isinstance(plan, Problem) else plan
    event = event_name(cells.get("event", ""))
    value = _value(cells, event, named.removal_words(known), style)
    counter = _counter(cells.get("counter", ""), style)
    placed = _placed(cells.get("time", ""), moments, named.zone(machine, known))
    found = (plan, named.machine(machine), event, value, counter, placed, _beyond_header(cells))
    problems = [each for each in found if isinstance(each, Problem)]
    if problems or isinstance(event, Problem) or isinstance(value, Problem):
        return problems
    if isinstance(counter, Problem) or isinstance(placed, Problem):
        return problems
    moment = moments.choose(placed, machine, (part, event, value))
    form, operator = cells.get("form", ""), cells.get("operator", "")
    return EventLogged(moment, machine, part, event, value, note, counter, form, operator, source, row)


def _value(
    cells: Cells, event: str | Problem, removal_words: Sequence[str], style: NumberStyle | None
) -> str | Problem:
    """Return the value as its event wants it; an event nobody knows wants nothing of it."""
    value = cells.get("value", "")
    if isinstance(event, Problem):
        return value
    return event_value(event, value, cells.get("note", ""), removal_words, style)


def _counter(text: str, style: NumberStyle | None) -> int | Problem | None:
    """Return the count of pieces, None where none is given."""
    if not text:
        return None
    counter = read_whole(text, style)
    if counter is None:
        return Problem("counter", text, "this is no count of pieces", "a whole number from 0")
    return counter


def _placed(text: str, moments: FileMoments, zone: str) -> Placed | Problem:
    placed = moments.read(text, zone)
    return Problem("time", text, placed, AS_TIME) if isinstance(placed, str) else placed


def _beyond_header(cells: Cells) -> Problem | None:
    extra = cells.get("", "")
    if not extra:
        return None
    do = "A number with a decimal comma stands in quotation marks where commas separate the cells"
    return Problem("the whole row", extra, "the row has more cells than the header", "", do)


def _named_cells(table: TableRead, given: Sequence[str]) -> dict[str, str]:
    """Name the cells of a row; what stands beyond the header is kept under ""."""
    cells = {name: cell.strip() for name, cell in zip(table.columns, given, strict=False) if name}
    cells[""] = next((cell.strip() for cell in given[len(table.columns) :] if cell.strip()), "")
    return cells


def _numbers(table: TableRead) -> Iterator[tuple[str, None]]:
    """Yield the values that should be numbers."""
    for _, given in table.rows:
        cells = _named_cells(table, given)
        if cells.get("event", "").lower() in NUMBERS:
            yield cells.get("value", ""), None
