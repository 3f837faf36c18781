"""One [[characteristic]] of a plan."""

from datetime import date, datetime
from decimal import Decimal
from typing import Final, cast

from spc.errors import Refused
from spc.intake.moments import AS_TIME, read_moment
from spc.intake.nearest import listed, nearest
from spc.intake.plan_direction import PlanDirection
from spc.intake.plan_geometry import Drawn, read_geometry, with_geometry
from spc.intake.plan_keys import ONLY_GAUGED, PIECE_VALUES, RESULTS
from spc.intake.plan_table import Table
from spc.intake.plan_trace import read_trace_rule
from spc.shop.layouts import AT, KINDS, MAGNITUDES, SET_BY, SIGNED_DEVIATIONS, UNITS, Kind
from spc.shop.limits import ControlLimits, ToleranceLimits
from spc.shop.plan import Characteristic, CheckRule

__all__ = ["read_characteristic"]

GOOD: Final = "ok"
MOST_EXPANSION: Final = 50e-6
JUDGED_BY: Final = ("fixed", "with_die_wear")


def read_characteristic(table: Table, rule: CheckRule, zone: str) -> Characteristic:
    """Read one characteristic; what is wrong with it is collected in the plan's book."""
    table.refuse_unknown_keys()
    kind = _closed(table, "kind", KINDS)
    size = table.whole("subgroup_size", 1 if kind == "visual" else rule.subgroup_size) or 1
    read = _visual if kind == "visual" else _gauged
    return read(table, cast(Kind, kind or "diameter"), size, zone)


def _closed(table: Table, key: str, allowed: tuple[str, ...]) -> str:
    """Return a needed word of a closed set, "" where there is none."""
    value = table.values.get(key)
    if isinstance(value, str) and value in allowed:
        return value
    reason = f"{key} is missing" if value is None else f"there is no {key} of this name"
    table.refuse(key, reason, listed(allowed), nearest(str(value or ""), allowed))
    return ""


def _visual(table: Table, kind: Kind, size: int, zone: str) -> Characteristic:
    del zone
    for key in table.values:
        if key in ONLY_GAUGED:
            table.refuse(key, f"a visual look has no {key}", "name, kind, answers, subgroup_size, at, form")
    answers = table.words("answers")
    if GOOD not in answers:
        table.refuse("answers", 'the answers of a visual look begin with "ok"', '["ok", "flakes", …]')
    return Characteristic(
        name=table.text("name", needed=True),
        kind=kind,
        unit="",
        nominal=Decimal(0),
        tolerance=ToleranceLimits(None, None),
        wears_with_die=table.flag("wears_with_die", default=False),
        subgroup_size=size,
        at=table.words("at", AT) or ("every",),
        later=table.word("result", RESULTS, "now") == "later",
        answers=(GOOD, *(word for word in answers if word != GOOD)),
        positions=_positions(table),
        form=table.text("form"),
        line=table.book.lines.of(table.path) or 0,
    )


def _gauged(table: Table, kind: Kind, size: int, zone: str) -> Characteristic:
    set_by = table.word("set_by", SET_BY, "none")
    judged_by, signed = _limits(table, size, zone)
    drawn = read_geometry(table, kind)
    unit, nominal = _closed(table, "unit", UNITS) or "mm", _nominal(table, kind, drawn)
    near = PlanDirection(table, kind, unit, nominal, drawn.geometry)
    characteristic = Characteristic(
        name=table.text("name", needed=True),
        kind=kind,
        unit=unit,
        nominal=nominal,
        tolerance=_tolerance(table, kind, drawn, near),
        target=near.number(table.number("target")),
        set_by=set_by,
        penetration_gain=table.real("penetration_gain"),
        judged_by=judged_by,
        minimum_cpk=table.real("minimum_cpk", above=0),
        wears_with_die=table.flag("wears_with_die", default=set_by == "penetration"),
        subgroup_size=size,
        at=table.words("at", AT) or ("every",),
        later=table.word("result", RESULTS, "now") == "later",
        piece_value=table.word("piece_value", PIECE_VALUES, "mean"),
        positions=_positions(table),
        master_size=table.number("master_size"),
        length=table.number("length", above=0),
        expansion_per_k=_expansion(table, "expansion_per_k"),
        master_expansion_per_k=_expansion(table, "master_expansion_per_k"),
        master_as_warm_as_part=table.flag("master_as_warm_as_part", default=False),
        form=table.text("form"),
        trace=read_trace_rule(table, kind, unit, drawn.geometry),
        signed=near.signed(signed),
        line=table.book.lines.of(table.path) or 0,
    )
    _sound(table, characteristic)
    return with_geometry(table, drawn, characteristic)


def _nominal(table: Table, kind: Kind, drawn: Drawn) -> Decimal:
    of_zero = kind in MAGNITUDES or kind in SIGNED_DEVIATIONS
    nominal = table.number("nominal", Decimal(0) if of_zero else drawn.nominal)
    if nominal is None:
        asked = "nominal" not in table.values and not drawn.is_refused
        if asked and table.values.get("kind") in KINDS:
            table.refuse("nominal", "the nominal is missing", "the size on the drawing, such as 31.250")
        return Decimal(0)
    return nominal


def _tolerance(table: Table, kind: Kind, drawn: Drawn, near: PlanDirection) -> ToleranceLimits:
    limits = near.limits(ToleranceLimits(drawn.limit(table, "lower"), drawn.limit(table, "upper")))
    if limits.width is not None and limits.width < 0:
        table.refuse("lower", f"the lower limit is above the upper, {limits.upper}", "lower at most upper")
    missing = [key for key in ("lower", "upper") if key not in table.values]
    as_magnitude = kind == "taper" and missing == ["lower"]
    if kind in SIGNED_DEVIATIONS and missing and not as_magnitude:
        table.refuse(missing[0], f"a {kind} has a sign and wants both limits", "lower and upper")
    if kind in MAGNITUDES and limits.upper is not None and limits.upper < 0:
        table.refuse("upper", f"a {kind} is never below 0", "a number of at least 0")
    return limits


def _expansion(table: Table, key: str) -> float | None:
    """Read an expansion per kelvin; 11.5 typed for 11.5e-6 is the usual slip."""
    per_k = table.real(key)
    if per_k is not None and not 0.0 <= per_k <= MOST_EXPANSION:
        table.refuse(key, "no part grows so per kelvin", "0 to 50e-6 (steel is near 11.5e-6)")
        return None
    return per_k


def _sound(table: Table, characteristic: Characteristic) -> None:
    """Refuse what is readable key by key but cannot be meant together."""
    target, gain = characteristic.target, characteristic.penetration_gain
    width = characteristic.tolerance.width
    in_order = width is None or width >= 0
    if target is not None and in_order and not characteristic.tolerance.holds(target):
        table.refuse("target", "the target lies outside the limits", "between lower and upper")
    if characteristic.expansion_per_k is None:
        for key in ("master_expansion_per_k", "master_as_warm_as_part"):
            if key in table.values:
                table.refuse(
                    key, "it says nothing without the part's own expansion_per_k", "expansion_per_k too"
                )
    if gain == 0:
        table.refuse("penetration_gain", "the slide must move the size", "a number other than 0")


def _limits(table: Table, size: int, zone: str) -> tuple[str, ControlLimits | None]:
    """Read `limits`: a word, or a table of limits that somebody signed."""
    if not isinstance(table.values.get("limits"), dict):
        return table.word("limits", JUDGED_BY, "fixed"), None
    limits = table.below("limits", "characteristic.limits")
    limits.refuse_unknown_keys()
    centre = limits.real("centre")
    sigma = limits.real("sigma_within", above=0)
    for key, value in (("centre", centre), ("sigma_within", sigma)):
        if value is None and key not in limits.values:
            limits.refuse(key, f"{key} is missing", "centre and sigma_within, in the plan's unit")
    by = limits.text("signed_by")
    signed_at = _signed_at(limits, zone)
    judged_by = limits.word("judged_by", JUDGED_BY, "fixed")
    if centre is None or sigma is None:
        return judged_by, None
    standing = "signed" if by else "provisional"
    return judged_by, ControlLimits(centre, sigma, size, 0, standing, by, signed_at)  # type: ignore[arg-type]  # one of the two words


def _signed_at(limits: Table, zone: str) -> datetime | None:
    value = limits.values.get("signed_at")
    if value is None:
        return None
    if isinstance(value, date) and not isinstance(value, datetime):
        value = datetime(value.year, value.month, value.day)  # noqa: DTZ001  # wall clock of the plant
    if isinstance(value, str | datetime):
        try:
            return read_moment(value, zone)
        except Refused as refused:
            limits.refuse("signed_at", refused.refusals[0].reason, AS_TIME)
            return None
    limits.refuse("signed_at", "a date and time is needed here", AS_TIME)
    return None


def _positions(table: Table) -> tuple[str, ...]:
    """Read the places on a piece: names, tables with a name, or how many."""
    for key in ("positions", "position"):
        value = table.values.get(key)
        if isinstance(value, int) and not isinstance(value, bool):
            return tuple(str(place) for place in range(1, (table.whole(key) or 0) + 1))
        if isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
            return tuple(place.text("name", needed=True) for place in table.each(key))
        if value is not None:
            return table.words(key)
    return ()
