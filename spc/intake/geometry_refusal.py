"""What geometry refuses, said at the key and line of the plan that it comes from."""

from typing import Final

from spc.errors import Refused
from spc.intake.plan_keys import ALLOWED
from spc.intake.plan_table import Table

__all__ = ["refuse_as"]

_KEYS: Final = {
    "module": "module", "diametral pitch": "diametral_pitch", "teeth": "teeth", "pressure angle": "pressure_angle_deg",
    "helix angle": "helix_deg", "tip diameter": "tip_diameter_mm", "root diameter": "root_diameter_mm",
    "form diameter": "form_diameter_mm", "class": "class", "fit": "fit", "root": "root", "length": "length_mm",
    "pitch": "pitch_mm", "angle": "included_angle_deg", "starts": "starts", "lead angle": "starts", "wire": "wire_mm",
    "major diameter": "major_diameter_mm", "flanks": "profile", "reference diameter": "reference_diameter_mm",
    "ball": "ball_mm", "arc radius": "arc_radius_mm", "arc offset": "contact_angle_deg", "lead": "lead_mm",
    "grooves": "grooves", "nominal lead": "nominal_lead", "nominal depth": "nominal_depth",
}  # fmt: skip
"""Words of the geometry and the plan's keys for them."""

_INSTEAD: Final = {"module": ("diametral_pitch", "axial_pitch_mm")}
"""Keys a plan may give in place of another."""


def refuse_as(table: Table, refused: Refused, key: str, do: str = "") -> None:
    """Collect refusals of the geometry: at the key they speak of where this table has one, else at `key`.

    Parameters
    ----------
    table : Table
        The geometry table of the plan.
    refused : Refused
        What the geometry said.
    key : str
        Where what names no key of this table is said.
    do : str
        What to do where it is said at `key`, instead of the geometry's own advice.
    """
    for each in refused.refusals:
        at = _key_of(table, each.column, key)
        column = ".".join([*(str(step) for step in table.path if isinstance(step, str)), at])
        if any(said.column == column for said in table.book.refusals):
            continue  # once, not at each limit
        value = f" ({each.value})" if each.value and each.value not in each.reason else ""
        table.refuse(at, f"{each.reason}{value}", each.allowed, (do if at == key else "") or each.do)


def _key_of(table: Table, word: str, key: str) -> str:
    """Return the key of this table that a word of the geometry stands for, else `key`."""
    spoken = _KEYS.get(word, "")
    given = [each for each in _INSTEAD.get(spoken, ()) if each in table.values]
    if spoken not in table.values and given:
        return given[0]
    return spoken if spoken in ALLOWED[table.name] else key
