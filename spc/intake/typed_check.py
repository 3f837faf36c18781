"""A check or an event as a page or a program gives it: a mapping of names to texts and numbers."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from numbers import Integral, Real
from typing import Any, Final

from spc.errors import Refused
from spc.intake.celsius import CELSIUS_ALLOWED, read_celsius
from spc.intake.events_file import read_event_row
from spc.intake.from_master import MasterCell, master_cell
from spc.intake.gauge_cell import GaugeCell, gauge_cell
from spc.intake.moments import AS_TIME, FileMoments, place
from spc.intake.named import Named
from spc.intake.nearest import listed, nearest
from spc.intake.number import AS_ALLOWED, ExactText, NumberStyle, exact_text, read_whole
from spc.intake.problem import Problem
from spc.intake.typed_trace import is_trace, read_typed_trace, with_trace
from spc.shop.facts import CheckGauged, EventLogged, Reading
from spc.shop.layouts import EVENT_COLUMNS
from spc.shop.plan import Characteristic, Plan
from spc.shop.trace import Trace

__all__ = ["read_check", "read_event"]

CHECK_KEYS: Final = (
    "time", "machine", "part", "counter", "operator", "purpose", "temperature_c", "master_temperature_c",
    "values", "from_master_um", "skipped",
)  # fmt: skip

_HUGE: Final = 10**40
Cell = GaugeCell | MasterCell


def read_check(
    check: Mapping[str, Any], plan: Plan, source: str = "entry", machines: Collection[str] = ()
) -> CheckGauged:
    """Read one check for the entry page and for programs.

    Parameters
    ----------
    check : mapping
        `time` (text or datetime; without offset in the plant's zone), `machine`, `part`, `counter`,
        `operator`, `purpose`, `temperature_c`, `master_temperature_c`, and `values`: for each
        characteristic one value or a list of values in the plan's unit, piece 1 first, as text, int, float
        or Decimal; a visual look takes the plan's words. None and "" are pieces left out. A piece gauged at
        several places is a mapping of position to value. In place of a value may stand what it is read from,
        `{"trace": [[position, value], …], "name": …}`, where the characteristic takes one. `from_master_um` beside
        or instead of `values`, of the same form: what a comparator shows in µm, counted from the certified size of
        its setting master.
        `skipped`: a list of (characteristic, piece, reason).
    plan : Plan
        Of the part.
    source : str
        Kept with the check.
    machines : collection of str
        Machines that other plans name.

    Returns
    -------
    CheckGauged

    Raises
    ------
    Refused
        Everything that is wrong with it, together.
    """
    known = Named([plan], machines)
    problems = [
        Problem(str(key), "", f"a check has no {key!r}", listed(CHECK_KEYS), nearest(str(key), CHECK_KEYS))
        for key in check
        if key not in CHECK_KEYS
    ]
    texts = {key: _text(check.get(key)) for key in CHECK_KEYS[:8]}
    problems += [found for found in (_part(texts["part"], plan), known.machine(texts["machine"])) if found]
    placed = place(texts["time"], plan.zone)
    if isinstance(placed, str):
        problems.append(Problem("time", texts["time"], placed, AS_TIME))
    counter = read_whole(texts["counter"], None) if texts["counter"] else None
    if texts["counter"] and counter is None:
        problems.append(Problem("counter", texts["counter"], "this is no count of pieces", "a whole number"))
    purpose = known.purpose(texts["purpose"])
    if isinstance(purpose, Problem):
        problems.append(purpose)
    piece_c, master_c = (_temperature(texts, key, problems) for key in CHECK_KEYS[6:8])
    values = _Values(plan, piece_c, master_c, problems)
    values.take(check.get("values"), check.get("from_master_um"))
    skipped = _skipped(check.get("skipped"), plan, problems)
    if problems or isinstance(placed, str) or isinstance(purpose, Problem):
        raise Refused(problem.at(source, None) for problem in problems)
    return CheckGauged(
        placed[0], texts["machine"], plan.part, tuple(values.readings), counter, texts["operator"],
        purpose or "hourly", source, skipped, tuple(values.traces),
    )  # fmt: skip


def read_event(event: Mapping[str, Any], plan: Plan | Sequence[Plan], source: str = "entry") -> EventLogged:
    """Read one event in the columns of `events.csv`, for the page's buttons and for programs.

    Parameters
    ----------
    event : mapping
        Text, numbers or datetime under the names of `layouts.EVENT_COLUMNS`.
    plan : Plan or sequence of Plan
        Those that know its part and machine.

    Raises
    ------
    Refused
        Everything that is wrong with it, together.
    """
    plans = [plan] if isinstance(plan, Plan) else list(plan)
    problems = [
        Problem(
            str(key), "", f"an event has no {key!r}", listed(EVENT_COLUMNS), nearest(str(key), EVENT_COLUMNS)
        )
        for key in event
        if key not in EVENT_COLUMNS
    ]
    cells = {column: _text(event.get(column)) for column in EVENT_COLUMNS}
    found = read_event_row(cells, Named(plans), FileMoments(), _typed_style(cells), source)
    if isinstance(found, EventLogged) and not problems:
        return found
    more = [] if isinstance(found, EventLogged) else found
    raise Refused(problem.at(source, None) for problem in problems + more)


def _typed_style(cells: Mapping[str, str]) -> NumberStyle | None:
    """Take a lone comma in a slide setting or a gauge's zero for a decimal comma: neither has thousands."""
    value = cells["value"]
    if cells["event"].strip().lower() in ("penetration", "setting", "gauge_mastered"):
        return "comma" if "," in value and "." not in value else "point"
    return None


def _text(value: Any) -> str:
    """Say any value a program may give as text; a number keeps its exact value."""
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Integral):
        return exact_text(int(value)) if abs(int(value)) < _HUGE else "a number without end"
    if isinstance(value, Decimal):
        return ExactText(format(value, "f"))
    if isinstance(value, Real):
        return exact_text(float(value))
    return value.strip() if isinstance(value, str) else str(value)


def _part(text: str, plan: Plan) -> Problem | None:
    if text == plan.part:
        return None
    return Problem("part", text, "this plan is of another part" if text else "the part is missing", plan.part)


def _temperature(texts: Mapping[str, str], key: str, problems: list[Problem]) -> Decimal | None:
    value = read_celsius(texts[key]) if texts[key] else None
    if isinstance(value, str):
        problems.append(Problem(key, texts[key], value, CELSIUS_ALLOWED))
        return None
    return value


def _skipped(given: Any, plan: Plan, problems: list[Problem]) -> tuple[tuple[str, int, str], ...]:
    names = {each.name for each in plan.characteristics}
    skipped: list[tuple[str, int, str]] = []
    entries = given if isinstance(given, list | tuple) else [given]
    for entry in entries if given is not None else ():
        name, piece, reason = entry if isinstance(entry, list | tuple) and len(entry) == 3 else ("", "", "")
        whole = read_whole(_text(piece), "point", least=1)
        if isinstance(name, str) and name in names and whole:
            skipped.append((name, whole, _text(reason)))
        else:
            allowed = "(characteristic, piece, reason)"
            problems.append(Problem("skipped", str(entry), "this names no piece of the plan", allowed))
    return tuple(skipped)


@dataclass(slots=True)
class _Values:
    """The values of a check, characteristic by characteristic."""

    plan: Plan
    temperature_c: Decimal | None
    master_temperature_c: Decimal | None
    problems: list[Problem]
    readings: list[Reading] = field(default_factory=list)
    traces: list[Trace] = field(default_factory=list)

    def take(self, sizes: Any, deviations: Any) -> None:
        """Take the mapping of sizes, the mapping of deviations from masters, or both."""
        before = len(self.problems)
        if sizes is not None or deviations is None:
            self._take_all("values", sizes, lambda characteristic: gauge_cell(characteristic, ""))
        if deviations is not None:
            self._take_all("from_master_um", deviations, master_cell)
        if not self.readings and len(self.problems) == before:
            self.problems.append(Problem("values", "", "nothing was gauged", AS_ALLOWED))

    def _take_all(self, key: str, given: Any, cell_of: Callable[[Characteristic], Cell | Problem]) -> None:
        if not isinstance(given, Mapping):
            names = ", ".join(each.name for each in self.plan.characteristics)
            self.problems.append(Problem(key, _text(given), "the values are missing", f"lists for {names}"))
            return
        for name, texts in given.items():
            characteristic = Named.characteristic(self.plan, str(name))
            gauge = characteristic if isinstance(characteristic, Problem) else cell_of(characteristic)
            if isinstance(gauge, Problem):
                self.problems.append(gauge)
                continue
            pieces = texts if isinstance(texts, Sequence) and not isinstance(texts, str) else [texts]
            for piece, value in enumerate(pieces, start=1):
                self._take_piece(gauge, piece, value)

    def _take_piece(self, gauge: Cell, piece: int, value: Any) -> None:
        traced = is_trace(value, gauge.characteristic)
        places = value.items() if isinstance(value, Mapping) and not traced else [("", value)]
        for position, given in places:
            if is_trace(given, gauge.characteristic):
                self._take_trace(gauge.characteristic, piece, str(position), given)
                continue
            text = _text(given)
            if text:
                self._take_value(gauge, piece, str(position), text)

    def _take_trace(
        self, gauged: Characteristic, piece: int, position: str, given: Mapping[str, Any]
    ) -> None:
        found = read_typed_trace(given, gauged, piece, position, _text)
        if isinstance(found, Problem):
            self.problems.append(found)
            return
        value, trace = found
        if self._add(gauged, piece, position, f"{value:f}", (value, ""), gauged.unit):
            self.traces = with_trace(self.traces, trace)

    def _take_value(self, gauge: Cell, piece: int, position: str, text: str) -> None:
        name = gauge.characteristic.name
        found = gauge.read(text, None)
        if isinstance(found, Problem):
            self.problems.append(found._replace(column=f"{name}, piece {piece}"))
            return
        self._add(gauge.characteristic, piece, position, text, found, gauge.unit)

    def _add(
        self,
        gauged: Characteristic,
        piece: int,
        position: str,
        text: str,
        found: tuple[Decimal | None, str],
        unit: str,
    ) -> bool:
        """Add a reading, unless the piece has one already."""
        reading = Reading(
            gauged.name, piece, str(text), found[0], found[1], unit, position, self.temperature_c,
            self.master_temperature_c,
        )  # fmt: skip
        if any(each.key == reading.key for each in self.readings):
            reason = "this piece is given twice, as a size and from its master"
            self.problems.append(Problem(f"{gauged.name}, piece {piece}", text, reason, "one of the two"))
            return False
        self.readings.append(reading)
        return True
