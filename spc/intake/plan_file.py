"""plan.toml: what is checked and how, read into one Plan, or everything wrong with it at once."""

import re
import tomllib
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any, Final, cast

from spc.errors import Refusal, Refused
from spc.intake.plan_characteristic import read_characteristic
from spc.intake.plan_costs import read_costs
from spc.intake.plan_lines import PlanLines
from spc.intake.plan_table import Book, Table
from spc.shop.layouts import Display
from spc.shop.moment import zone_is_known
from spc.shop.plan import Characteristic, CheckRule, Machine, Plan

__all__ = ["DEFAULT_SHIFTS", "DEFAULT_ZONE", "read_plan", "read_plans"]

DEFAULT_ZONE: Final = "UTC"
DEFAULT_SHIFTS: Final = ("06:00", "14:00", "22:00")
_LINE: Final = re.compile(r"\(at (?:line (\d+), column \d+|end of document)\)")
_DISPLAYS: Final = ("deeper_is_larger", "deeper_is_smaller")
_CLOCK: Final = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]")


def read_plan(path_or_text: str | Path, source: str = "") -> Plan:
    r"""Read the plan of one part for everything that checks it.

    Parameters
    ----------
    path_or_text : str or Path
        A file, or the TOML itself: a str with a line break or "[" is text.
    source : str
        Name shown in refusals and kept with the plan; default the file name, or "plan text".

    Returns
    -------
    Plan
        Numbers exact; without `[plant]` the zone is UTC and the shifts begin at 06:00, 14:00, 22:00.

    Raises
    ------
    Refused
        Every mistake of the plan at once, each with key, line and what is allowed.

    Examples
    --------
    >>> plan = read_plan('''[part]
    ... id = "P-31"
    ... [[characteristic]]
    ... name = "over_pin"
    ... kind = "over_pin_diameter"
    ... unit = "mm"
    ... nominal = 31.250
    ... ''')
    >>> plan.part, plan.characteristic("over_pin").nominal
    ('P-31', Decimal('31.250'))
    """
    text, name = _text_of(path_or_text)
    name = source or name
    values = _toml(text, name)
    book = Book(name, PlanLines(text))
    plan = _plan(Table(book, "", (), values), text)
    if book.refusals:
        raise Refused(sorted(book.refusals, key=lambda refusal: refusal.row or 0))
    return plan


def read_plans(paths: Sequence[Path | str]) -> tuple[Plan, ...]:
    """Read several plans, one part each; a folder stands for its `plan*.toml` in order of name.

    Raises
    ------
    Refused
        The mistakes of all of them together; also two plans of one part, or no plan at all.
    """
    plans: list[Plan] = []
    refusals: list[Refusal] = []
    for path in _files(paths, refusals):
        try:
            plan = read_plan(path)
        except Refused as refused:
            refusals += refused.refusals
            continue
        twin = next((each for each in plans if each.part == plan.part), None)
        if twin is not None:
            reason = f"{twin.source} is already the plan of this part"
            refusals.append(Refusal(reason, plan.part, plan.source, None, "part.id", "one plan a part"))
        plans.append(plan)
    if not plans and not refusals:
        refusals.append(Refusal("there is no plan", allowed="plan*.toml, one part a file"))
    if refusals:
        raise Refused(refusals)
    return tuple(plans)


def _files(paths: Sequence[Path | str], refusals: list[Refusal]) -> list[Path | str]:
    files: list[Path | str] = []
    for path in paths:
        folder = None if _is_text(path) else Path(path)
        if folder is None or not folder.is_dir():
            files.append(path)
            continue
        found = sorted(folder.glob("plan*.toml"))
        if not found:
            refusals.append(Refusal("this folder holds no plan", file=str(path), allowed="plan*.toml"))
        files += found
    return files


def _is_text(path_or_text: str | Path) -> bool:
    return isinstance(path_or_text, str) and ("\n" in path_or_text or "[" in path_or_text)


def _text_of(path_or_text: str | Path) -> tuple[str, str]:
    if _is_text(path_or_text):
        return str(path_or_text), "plan text"
    path = Path(path_or_text)
    try:
        return path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n"), path.name
    except UnicodeDecodeError as error:
        row = path.read_bytes()[: error.start].count(b"\n") + 1
        raise Refused.one("the plan is not UTF-8 text", file=path.name, row=row, allowed="UTF-8") from None
    except (OSError, ValueError) as error:
        reason = f"the plan cannot be opened: {getattr(error, 'strerror', None) or error}"
        raise Refused.one(reason, file=str(path), allowed="a plan.toml") from None


def _toml(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (ValueError, ArithmeticError, RecursionError) as error:
        said = str(error) or type(error).__name__
        found = _LINE.search(said)
        row = text.count("\n") + 1 if found and not found[1] else int(found[1]) if found else None
        reason = f"this is not TOML: {_LINE.sub('', said).strip()}"
        raise Refused.one(reason, file=name, row=row, allowed='lines such as key = "text"') from None


def _plan(top: Table, text: str) -> Plan:
    part, plant, die_set, check = (top.below(key, key) for key in ("part", "plant", "die_set", "check"))
    for table in (top, part, plant, die_set, check):
        table.refuse_unknown_keys()
    rule = _check_rule(check)
    zone = _zone(plant)
    kept = [table.flag("order_kept", default=False) for table in (top, part, check)]
    more_words = [word for table in (plant, die_set, check) for word in table.words("removal_words")]
    return Plan(
        part=part.text("id", needed=True),
        description=part.text("description"),
        zone=zone,
        shifts=_clock_times(plant, "shifts", "a shift") or DEFAULT_SHIFTS,
        breaks=_clock_times(plant, "breaks", "a break"),
        machines=_machines(top),
        check=rule,
        characteristics=_characteristics(top, rule, zone),
        correction_travel_mm=die_set.real("correction_travel", above=0),
        doubt_share=_doubt_share((top, part, check)),
        order_kept=any(kept),
        costs=read_costs(top),
        removal_words=tuple(dict.fromkeys(more_words)),
        text=text,
        source=top.book.file,
    )


def _zone(plant: Table) -> str:
    zone = plant.text("zone", DEFAULT_ZONE) or DEFAULT_ZONE
    if zone_is_known(zone):
        return zone
    plant.refuse("zone", "this time zone is not known", "an IANA name such as Europe/Berlin or UTC")
    return DEFAULT_ZONE


def _clock_times(plant: Table, key: str, what: str) -> tuple[str, ...]:
    """Times of day in their order; () where the plan names none."""
    starts = plant.words(key)
    if any(not _CLOCK.fullmatch(start) for start in starts):
        plant.refuse(key, f"{what} begins at a time of day", '["06:00", "14:00", "22:00"]')
    return tuple(sorted(starts))


def _check_rule(check: Table) -> CheckRule:
    pieces = check.whole("interval_pieces")
    minutes = check.real("interval_minutes", None if pieces else 60.0, above=0)
    return CheckRule(check.whole("subgroup_size", 5) or 5, minutes, pieces)


def _doubt_share(tables: Sequence[Table]) -> float:
    share = 0.01
    for table in tables:
        value = table.real("doubt_share")
        if value is not None and not 0 < value < 1:
            table.refuse("doubt_share", "this is a share of pieces", "a number between 0 and 1, such as 0.01")
        elif value is not None:
            share = value
    return share


def _machines(top: Table) -> tuple[Machine, ...]:
    machines: list[Machine] = []
    for table in top.each("machine"):
        table.refuse_unknown_keys()
        machine = Machine(
            table.text("id", needed=True),
            table.number("slide_step_mm", above=0) or Decimal("0.001"),
            table.word("slides", ("one", "two"), "one"),
            cast(Display, table.word("display", _DISPLAYS, "deeper_is_larger")),
            table.number("largest_move_mm", above=0),
        )
        if any(machine.id == each.id for each in machines):
            table.refuse("id", "two machines have one name", "a name of its own for each machine")
        machines.append(machine)
    return tuple(machines)


def _characteristics(top: Table, rule: CheckRule, zone: str) -> tuple[Characteristic, ...]:
    tables = top.each("characteristic")
    if not tables and isinstance(top.values.get("characteristic", []), list):
        top.refuse("characteristic", "the plan checks nothing", "at least one [[characteristic]]")
    read: list[Characteristic] = []
    names: set[str] = set()
    for table in tables:
        characteristic = read_characteristic(table, rule, zone)
        if characteristic.name in names:
            table.refuse("name", "two characteristics have one name", "a name of its own for each")
        names.add(characteristic.name)
        read.append(characteristic)
    return tuple(read)
