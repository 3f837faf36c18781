"""Limits of the drawing: tooth thickness, pitch diameter or ball circle, given outright or by a class."""

import re
from dataclasses import dataclass, replace
from typing import Any, Final

from spc.errors import Refused
from spc.geometry import (
    READ,
    InvoluteTeeth,
    SplineLimits,
    inch_spline,
    iso_spline,
    metric_thread_limits,
)
from spc.intake.geometry_refusal import refuse_as
from spc.intake.plan_table import Table
from spc.shop.form_geometry import FormGeometry, SplineForm, ThreadForm

__all__ = ["SIZE_KEYS", "DrawnSize", "drawn_crest", "drawn_size"]

SIZE_KEYS: Final = {
    "spline": ("tooth_thickness", "tooth thickness"),
    "thread": ("pitch_diameter", "pitch diameter"),
    "worm": ("axial_thickness", "axial thread thickness"),
    "groove": ("ball_circle", "ball circle"),
}
"""Beginning of the plan's keys for the size behind the gauge, and its words."""

AGREE_MM: Final = 0.0005
_ISO: Final = "ISO 4156"
_INCH: Final = "ANSI B92.1"
_CLASS: Final = re.compile(r"([4-7])([defh])?")


@dataclass(frozen=True, slots=True)
class DrawnSize:
    """Limits of the size behind the gauge, mm; `said` names what gave them, "" where nothing did."""

    lower_mm: float | None = None
    nominal_mm: float | None = None
    upper_mm: float | None = None
    said: str = ""
    notes: tuple[str, ...] = ()


def drawn_size(table: Table, geometry: FormGeometry) -> tuple[DrawnSize, FormGeometry]:
    """Read what the drawing limits, and fill in diameters that a class brings with it.

    Parameters
    ----------
    table : Table
        The geometry table.
    geometry : FormGeometry
        What was read from it.
    """
    stem, words = SIZE_KEYS[geometry.form]
    given = [table.real(f"{stem}{end}_mm", above=0) for end in ("_lower", "", "_upper")]
    lower, nominal, upper = given
    if lower is not None and upper is not None and lower > upper:
        table.refuse(
            f"{stem}_lower_mm", f"the lower limit is above the upper, {upper:g}", "at most the upper"
        )
    said = words if any(each is not None for each in given) else ""
    if "class" not in table.values:
        _only_with_class(table)
        return DrawnSize(lower, nominal, upper, said), geometry
    of_class, geometry = _of_class(table, geometry)
    for key, own, theirs in (
        (f"{stem}_lower_mm", lower, of_class.lower_mm),
        (f"{stem}_upper_mm", upper, of_class.upper_mm),
    ):
        if own is not None and theirs is not None and abs(own - theirs) > AGREE_MM:
            table.refuse(key, f"the class gives {theirs:.4f} mm", "one of both, or the same within 0.0005 mm")
    return replace(
        of_class,
        lower_mm=of_class.lower_mm if lower is None else lower,
        nominal_mm=nominal,
        upper_mm=of_class.upper_mm if upper is None else upper,
    ), geometry


def drawn_crest(table: Table, geometry: FormGeometry) -> DrawnSize:
    """Read the limits that a thread class gives a crest diameter."""
    if geometry.thread is None or "class" not in table.values:
        return DrawnSize()
    limits = _thread_limits(table, geometry.thread)
    if limits is None:
        return DrawnSize()
    found = limits[0]
    return DrawnSize(found.major_min_mm, found.major_mm, found.major_max_mm, limits[1])


def _only_with_class(table: Table) -> None:
    for key in ("standard", "fit", "root", "length_mm"):
        if key in table.values:
            table.refuse(key, f"{key} says nothing without a class", "class too")


def _of_class(table: Table, geometry: FormGeometry) -> tuple[DrawnSize, FormGeometry]:
    if geometry.spline is not None:
        return _spline_class(table, geometry, geometry.spline)
    if geometry.thread is not None:
        limits = _thread_limits(table, geometry.thread)
        if limits is None:
            return DrawnSize(), geometry
        found, said = limits
        low, high = found.pitch_diameter_min_mm, found.pitch_diameter_max_mm
        known = found.pitch_diameter_tolerance_um.how
        notes = () if known == READ else (f"the tolerance of the pitch diameter is {known}",)
        return DrawnSize(low, None, high, said, notes), geometry
    return DrawnSize(), geometry


def _thread_limits(table: Table, form: ThreadForm) -> tuple[Any, str] | None:
    if form.included_angle_deg != 60.0 or form.starts != 1:
        table.refuse("class", "this class is for 60° threads of one start", "limits of the pitch diameter")
        return None
    if form.major_diameter_mm is None:
        table.refuse("major_diameter_mm", "a class wants the nominal diameter", "such as 12, for M12")
        return None
    name = table.text("class")
    if not name:
        return None
    try:
        found = metric_thread_limits(form.major_diameter_mm, form.pitch_mm, name)
    except Refused as refused:
        refuse_as(table, refused, "class")
        return None
    return found, f"ISO 965-1, M{form.major_diameter_mm:g}×{form.pitch_mm:g} - {name}"


def _spline_class(table: Table, geometry: FormGeometry, form: SplineForm) -> tuple[DrawnSize, FormGeometry]:
    limits = _spline_limits(table, form)
    if limits is None:
        return DrawnSize(), geometry
    if limits.thickness_min_mm <= 0.0:
        table.refuse("class", "this class leaves no tooth: its tolerance is wider than the tooth is thick")
        return DrawnSize(), geometry
    said = f"{limits.standard}, class {limits.spline_class}, fit {limits.fit}"
    drawn = DrawnSize(limits.thickness_min_mm, None, limits.thickness_max_mm, said, limits.notes)
    return drawn, replace(geometry, spline=_with_diameters(form, limits.teeth))


def _spline_limits(table: Table, form: SplineForm) -> SplineLimits | None:
    if form.pressure_angle_deg != 30.0 or form.helix_deg:
        table.refuse("class", "this class is known here for straight 30° splines", "tooth_thickness limits")
        return None
    by_pitch = "diametral_pitch" in table.values
    standard = table.word("standard", (_ISO, _INCH), _INCH if by_pitch else _ISO)
    if by_pitch != (standard == _INCH):
        table.refuse(
            "standard", f"{_INCH} goes with diametral_pitch, {_ISO} with module", _INCH if by_pitch else _ISO
        )
        return None
    found = _CLASS.fullmatch(str(table.values["class"]).strip())
    if found is None:
        table.refuse("class", "there is no such class of a spline", '"4" to "7", with a fit as in "5h"')
        return None
    fit = table.text("fit") or found[2] or "h"
    try:
        if by_pitch:
            pitch = float(table.values["diametral_pitch"])
            root = table.text("root", "flat")
            return inch_spline(pitch, form.teeth, spline_class=int(found[1]), root=root)
        return iso_spline(
            form.module_mm,
            form.teeth,
            spline_class=int(found[1]),
            fit=fit,
            root=table.text("root", "fillet"),
            length_mm=table.real("length_mm", above=0),
        )
    except Refused as refused:
        refuse_as(table, refused, "class")
        return None


def _with_diameters(form: SplineForm, teeth: InvoluteTeeth) -> SplineForm:
    """Take tip, root and form diameter of the class where the plan gives none of its own."""
    return replace(
        form,
        tip_diameter_mm=form.tip_diameter_mm or teeth.tip_diameter_mm,
        root_diameter_mm=form.root_diameter_mm or teeth.root_diameter_mm,
        form_diameter_mm=form.form_diameter_mm or teeth.form_diameter_mm,
    )
