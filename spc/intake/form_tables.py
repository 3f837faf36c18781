"""[characteristic.spline], .thread, .worm, .groove: what is rolled, as the drawing gives it."""

import math
from collections.abc import Callable
from decimal import Decimal
from typing import Any, Final

from spc.intake.plan_keys import GEOMETRY
from spc.intake.plan_table import Table
from spc.shop.form_geometry import FormGeometry, GrooveForm, SplineForm, ThreadForm, WormForm

__all__ = ["FormTable", "read_form_table", "read_rows"]

INCH_MM: Final = 25.4
_OPPOSITE: Final = ("profiled", "plain")
_PROFILES: Final = ("ZI", "ZA")

FormTable = tuple[Table, FormGeometry]


def read_form_table(table: Table) -> FormTable | None:
    """Read the geometry table of a characteristic; None where it has none or too little to go on.

    Parameters
    ----------
    table : Table
        The characteristic.
    """
    named = [key for key in GEOMETRY if key in table.values]
    for key in named[1:]:
        table.refuse(key, f"a characteristic has one geometry; {named[0]} stands here too", "one of them")
    if not named:
        return None
    inner = table.below(named[0], f"characteristic.{named[0]}")
    inner.refuse_unknown_keys()
    before = len(inner.book.refusals)
    geometry = _READERS[named[0]](inner)
    return None if geometry is None or len(inner.book.refusals) > before else (inner, geometry)


def _needed(table: Table, key: str, example: str) -> float | None:
    """Return a length or angle above 0; refuse its absence."""
    value = table.real(key, above=0)
    if key not in table.values:
        table.refuse(key, f"{key} is missing", example)
    return value


def _opposite(table: Table) -> str:
    return table.word("opposite_die", _OPPOSITE, "profiled")


def _spline(table: Table) -> FormGeometry | None:
    module, teeth = _module(table), table.whole("teeth")
    if "teeth" not in table.values:
        table.refuse("teeth", "teeth is missing", "the tooth count, such as 24")
    helix = table.real("helix_deg", 0.0) or 0.0
    if module is None or teeth is None:
        return None
    form = SplineForm(
        module,
        teeth,
        table.real("pressure_angle_deg", above=0),
        helix,
        table.real("pin_mm", above=0),
        *(table.real(f"{which}_diameter_mm", above=0) for which in ("tip", "root", "form")),
    )
    return FormGeometry("spline", _opposite(table), spline=form)


def _module(table: Table) -> float | None:
    """Return the module, from the diametral pitch where that is given."""
    if "diametral_pitch" not in table.values:
        return _needed(table, "module", "the normal module in mm, such as 1.25, or diametral_pitch")
    if "module" in table.values:
        table.refuse("diametral_pitch", "module stands here too, and both say one thing", "one of them")
    pitch = table.real("diametral_pitch", above=0)
    return None if pitch is None else INCH_MM / pitch


def _thread(table: Table) -> FormGeometry | None:
    pitch = _needed(table, "pitch_mm", "from groove to groove, such as 1.5")
    if pitch is None:
        return None
    form = ThreadForm(
        pitch,
        table.real("included_angle_deg", 60.0, above=0) or 60.0,
        table.whole("starts", 1) or 1,
        table.real("wire_mm", above=0),
        table.real("major_diameter_mm", above=0),
    )
    return FormGeometry("thread", _opposite(table), thread=form)


def _worm(table: Table) -> FormGeometry | None:
    if "axial_pitch_mm" in table.values:
        if "module" in table.values:
            table.refuse("axial_pitch_mm", "module stands here too, and both say one thing", "one of them")
        pitch = table.real("axial_pitch_mm", above=0)
        module = None if pitch is None else pitch / math.pi
    else:
        module = _needed(table, "module", "the axial module in mm, such as 2.0, or axial_pitch_mm")
    angle = _needed(table, "pressure_angle_deg", "of the flank in the axial plane, such as 20")
    diameter = _needed(table, "reference_diameter_mm", "such as 18.0")
    profile, starts = table.word("profile", _PROFILES, "ZI"), table.whole("starts", 1) or 1
    if module is None or angle is None or diameter is None:
        return None
    form = WormForm(module, starts, angle, diameter, profile, table.real("wire_mm", above=0))
    return FormGeometry("worm", _opposite(table), worm=form)


def _groove(table: Table) -> FormGeometry:
    lead = table.real("lead_mm", above=0)
    is_screw = lead is not None or "nominal_lead" in table.values
    form = GrooveForm(
        table.real("ball_mm", above=0),
        lead,
        table.whole("grooves", 1 if is_screw else 2) or 2,
        table.real("arc_radius_mm", above=0),
        _contact_angle(table),
        read_rows(table, "nominal_lead"),
        read_rows(table, "nominal_depth"),
    )
    return FormGeometry("groove", _opposite(table), groove=form)


def _contact_angle(table: Table) -> float | None:
    angle = table.real("contact_angle_deg")
    if angle is not None and not 0.0 <= angle < 90.0:
        table.refuse("contact_angle_deg", "no ball touches a groove at this angle", "0 to below 90")
        return None
    return angle


def read_rows(table: Table, key: str) -> tuple[tuple[float, float], ...]:
    """Read a table over position, () where there is none: [[0, 10.0], [100, 12.5]]."""
    value = table.values.get(key, [])
    if not isinstance(value, list) or not all(_is_pair(row) for row in value):
        table.refuse(key, "rows of position and value are needed here", "[[0, 10.0], [100, 12.5]], in mm")
        return ()
    return tuple((float(row[0]), float(row[1])) for row in value)


def _is_pair(row: Any) -> bool:
    numbers = isinstance(row, list) and len(row) == 2
    return numbers and all(isinstance(each, int | Decimal) and not isinstance(each, bool) for each in row)


_READERS: Final[dict[str, Callable[[Table], FormGeometry | None]]] = {
    "spline": _spline,
    "thread": _thread,
    "worm": _worm,
    "groove": _groove,
}
