"""From the drawing to the gauge: what a geometry table makes of nominal and limits of a characteristic."""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from spc.errors import Refused
from spc.geometry import best_element_mm, gain_of_form, gauge_from_size, refuse_no_groove, size_from_gauge
from spc.intake.drawn_size import AGREE_MM, SIZE_KEYS, DrawnSize, drawn_crest, drawn_size
from spc.intake.form_tables import read_form_table
from spc.intake.geometry_refusal import refuse_as
from spc.intake.plan_table import Table
from spc.shop.form_geometry import FormGeometry, GaugedSize
from spc.shop.layouts import LENGTH_UNITS, UNITS
from spc.shop.plan import Characteristic

__all__ = ["Drawn", "read_geometry", "with_geometry"]

_GAUGED: Final = {
    "spline": ("over_pin_diameter", "over_ball_diameter"),
    "thread": ("over_wire_diameter",),
    "worm": ("over_wire_diameter", "over_pin_diameter"),
    "groove": ("over_ball_diameter",),
}
_THROUGH: Final = ("over_pin_diameter", "over_wire_diameter", "over_ball_diameter")
_ELEMENTS: Final = {
    "spline": ("pin", "pin_mm"),
    "thread": ("wire", "wire_mm"),
    "worm": ("wire", "wire_mm"),
    "groove": ("ball", "ball_mm"),
}
_LIMIT_DECIMALS: Final = {"mm": Decimal("0.0001"), "um": Decimal("0.1"), "in": Decimal("0.00001")}
_LARGEST_MM: Final = 1e5
_NOMINAL_DECIMALS: Final = {"mm": Decimal("0.001"), "um": Decimal(1), "in": Decimal("0.0001")}


@dataclass(frozen=True, slots=True)
class Drawn:
    """What the drawing says of a characteristic; the numbers are the gauge's, in the plan's unit.

    Where it could not be worked out (`is_refused`), nothing more is asked of it.
    """

    table: Table | None = None
    geometry: FormGeometry | None = None
    lower: Decimal | None = None
    nominal: Decimal | None = None
    upper: Decimal | None = None
    is_refused: bool = False

    def limit(self, table: Table, key: str) -> Decimal | None:
        """Return a limit of the plan, else the drawing's; refuse two that do not agree."""
        given, drawn = table.number(key), self.lower if key == "lower" else self.upper
        if given is None or drawn is None:
            return drawn if given is None else given
        unit = str(table.values.get("unit"))
        if abs(given - drawn) * Decimal(LENGTH_UNITS.get(unit, "1")) > Decimal(str(AGREE_MM)):
            table.refuse(
                key,
                f"the geometry gives {drawn} {unit} here",
                "limits of the drawing or of the gauge; both only where they agree within half a µm",
            )
        return given


def read_geometry(table: Table, kind: str) -> Drawn:
    """Read the geometry of a characteristic and turn the drawing's limits into the gauge's.

    Parameters
    ----------
    table : Table
        The characteristic.
    kind : str
        Its kind.
    """
    before = len(table.book.refusals)
    read = read_form_table(table)
    if read is None or not _fits(table, *read, kind):
        return Drawn(is_refused=len(table.book.refusals) > before)
    drawn = _gauged(table, *read) if kind in _THROUGH else _not_gauged(table, *read, kind)
    return replace(drawn, is_refused=len(table.book.refusals) > before)


def _gauged(table: Table, inner: Table, geometry: FormGeometry) -> Drawn:
    element, unit = _element(inner, geometry), str(table.values.get("unit"))
    if element is None or unit not in _LIMIT_DECIMALS:
        if element is not None and unit in UNITS:
            table.refuse("unit", "what is gauged in a form is a length", ", ".join(_LIMIT_DECIMALS))
        return Drawn()
    size, geometry = drawn_size(inner, element)
    stem = SIZE_KEYS[geometry.form][0]
    lower, nominal, upper = (
        _shown(inner, geometry, each, f"{stem}{end}_mm")
        for each, end in ((size.lower_mm, "_lower"), (size.nominal_mm, ""), (size.upper_mm, "_upper"))
    )
    geometry = replace(
        geometry,
        limits_from=size.said,
        notes=size.notes,
        at_lower=lower,
        at_upper=upper,
        at_aim=nominal if lower is None and upper is None else None,
    )
    shown = (None if each is None else each.gauge_mm for each in (lower, nominal, upper))
    return _in_unit(inner, geometry, tuple(shown), unit)


def with_geometry(table: Table, drawn: Drawn, characteristic: Characteristic) -> Characteristic:
    """Keep with a characteristic its geometry, the sizes behind its limits and aim, and the first gain.

    What no part of this form can show at the gauge is refused at the plan's own key.
    """
    inner, geometry = drawn.table, drawn.geometry
    if drawn.is_refused or inner is None or geometry is None:
        return characteristic
    if geometry.size_name:
        geometry = _seen_from_both_sides(table, inner, geometry, characteristic)
    gain = gain_of_form(characteristic.kind, geometry)
    sets = characteristic.is_set_by_slide and characteristic.penetration_gain is None
    if sets and gain is None and geometry.opposite_die == "plain" and characteristic.kind == "crest_diameter":
        table.refuse("set_by", "the plain die carries the crests: the slide does not set them", "none")
    return replace(characteristic, geometry=replace(geometry, gain=gain))


def _seen_from_both_sides(
    table: Table, inner: Table, geometry: FormGeometry, characteristic: Characteristic
) -> FormGeometry:
    """Work out what lies behind the numbers of the plan; those of the drawing are known already."""
    before, only = len(table.book.refusals), geometry.at_aim
    lower, upper, aim = characteristic.tolerance.lower, characteristic.tolerance.upper, characteristic.aim
    at_lower = geometry.at_lower or _behind(table, inner, geometry, "lower", lower)
    at_upper = geometry.at_upper or _behind(table, inner, geometry, "upper", upper)
    at_aim = only
    if "nominal" in table.values:
        at_aim = _behind(table, inner, geometry, "nominal", characteristic.nominal)
    if len(table.book.refusals) == before and (at_aim is None or aim != characteristic.nominal):
        at_aim = _behind(table, inner, geometry, "target", aim)
    return replace(geometry, at_lower=at_lower, at_upper=at_upper, at_aim=at_aim)


def _fits(table: Table, inner: Table, geometry: FormGeometry, kind: str) -> bool:
    """Refuse a gauge that does not go with the form, and tables no groove can follow."""
    gauged = _GAUGED[geometry.form]
    if kind in _THROUGH and kind not in gauged:
        said = kind.removesuffix("_diameter").replace("_", " ")
        table.refuse("kind", f"a {geometry.form} is not gauged {said}s", " or ".join(gauged))
        return False
    if geometry.groove is None:
        return True
    try:
        refuse_no_groove(geometry.groove)
    except Refused as refused:
        refuse_as(inner, refused, "nominal_lead")
        return False
    return True


def _not_gauged(table: Table, inner: Table, geometry: FormGeometry, kind: str) -> Drawn:
    """Keep a form that another gauge checks; only a crest has limits by its class."""
    drawn = drawn_crest(inner, geometry) if kind == "crest_diameter" else DrawnSize()
    stem = SIZE_KEYS[geometry.form][0]
    limits = [f"{stem}_lower_mm", f"{stem}_upper_mm", *([] if drawn.said else ["class"])]
    for key in limits:
        if key in inner.values:
            inner.refuse(
                key, f"it says nothing of a {kind.replace('_', ' ')}", " or ".join(_GAUGED[geometry.form])
            )
    geometry = replace(geometry, limits_from=drawn.said, notes=drawn.notes)
    unit = str(table.values.get("unit"))
    if drawn.said and unit in _LIMIT_DECIMALS:
        numbers = (drawn.lower_mm, drawn.nominal_mm, drawn.upper_mm)
        return _in_unit(inner, geometry, numbers, unit)
    return Drawn(inner, geometry)


def _element(inner: Table, geometry: FormGeometry) -> FormGeometry | None:
    """Say what the gauge touches with; wires are the best ones where the plan names none, pins are not guessed."""
    element, key = _ELEMENTS[geometry.form]
    try:
        best = best_element_mm(geometry)
    except Refused as refused:
        refuse_as(inner, refused, key)
        return None
    given = inner.real(key, above=0)
    used = best if given is None and element == "wire" else given
    if used is None:
        hint = f"the best pin would be {best:.3f} mm" if best is not None else "such as 3.5"
        inner.refuse(key, f"the {element} the gauge touches with is missing", f"its diameter; {hint}")
        return None
    if geometry.thread is not None:
        geometry = replace(geometry, thread=replace(geometry.thread, wire_mm=used))
    if geometry.worm is not None:
        geometry = replace(geometry, worm=replace(geometry.worm, wire_mm=used))
    words = SIZE_KEYS[geometry.form][1]
    return replace(geometry, size_name=words, element=element, element_mm=used, best_element_mm=best)


def _shown(inner: Table, geometry: FormGeometry, size_mm: float | None, key: str) -> GaugedSize | None:
    """Turn one size of the drawing into what the gauge shows."""
    if size_mm is None:
        return None
    try:
        found = gauge_from_size(geometry, size_mm)
    except Refused as refused:
        blamed = _blamed(geometry, refused, key)
        refuse_as(inner, refused, blamed, "" if blamed == key else _advice(geometry))
        return None
    if found.gauge_mm < _LARGEST_MM:
        return found
    inner.refuse(key, "no rolled part is this large", f"sizes below {_LARGEST_MM:g} mm at the gauge")
    return None


def _behind(
    table: Table, inner: Table, geometry: FormGeometry, key: str, number: Decimal | None
) -> GaugedSize | None:
    """Return the size behind one number of the plan; a number no such part can show is refused where it stands."""
    unit = str(table.values.get("unit"))
    if number is None or unit not in LENGTH_UNITS:
        return None
    try:
        return size_from_gauge(geometry, float(number * Decimal(LENGTH_UNITS[unit])))
    except Refused as refused:
        if key in table.values and _blamed(geometry, refused, "") == "":
            for each in refused.refusals:
                table.refuse(key, each.reason, each.allowed, f"Check the number and [{inner.name}]")
        else:
            refuse_as(
                inner, refused, _blamed(geometry, refused, _ELEMENTS[geometry.form][1]), _advice(geometry)
            )
        return None


def _blamed(geometry: FormGeometry, refused: Refused, number_key: str) -> str:
    """Return the key of the pin, wire or ball where that is what is wrong, else that of the number."""
    first = refused.refusals[0]
    of_number = ("tooth thickness", "axial thickness", "pitch diameter", "ball circle")
    is_number = first.column in of_number or "reading" in first.reason
    return number_key if is_number else _ELEMENTS[geometry.form][1]


def _advice(geometry: FormGeometry) -> str:
    best = geometry.best_element_mm
    return "" if best is None else f"The best {geometry.element} here is {best:.3f} mm"


def _in_unit(inner: Table, geometry: FormGeometry, numbers: tuple[float | None, ...], unit: str) -> Drawn:
    """Bring lower, nominal and upper into the plan's unit: limits to 0.1 µm, the nominal to 1 µm."""
    lower, nominal, upper = (
        None if each is None else Decimal(repr(each)) / Decimal(LENGTH_UNITS[unit]) for each in numbers
    )
    if nominal is None and lower is not None and upper is not None:
        nominal = (lower + upper) / 2
    fine, coarse = _LIMIT_DECIMALS[unit], _NOMINAL_DECIMALS[unit]
    return Drawn(
        inner,
        geometry,
        None if lower is None else lower.quantize(fine),
        None if nominal is None else nominal.quantize(coarse),
        None if upper is None else upper.quantize(fine),
    )
