"""What geometry refuses, said at the key and line of the plan that it comes from."""

from typing import Final

from spc.errors import Refused
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


def refuse_as(table: Table, refused: Refused, key: str, do: str = "") -> None:
    """Collect refusals of the geometry: at the key they speak of where the plan has it, else at `key`.

    Parameters
    ----------
    table : Table
        The geometry table of the plan.
    refused : Refused
        What the geometry said.
    key : str
        Where what names no key of this table is said.
    do : str
        What to do, instead of the geometry's own advice.
    """
    for each in refused.refusals:
        spoken = _KEYS.get(each.column, key)
        at = spoken if spoken in table.values else key
        column = ".".join([*(str(step) for step in table.path if isinstance(step, str)), at])
        if any(said.column == column for said in table.book.refusals):
            continue  # once, not at each limit
        value = f" ({each.value})" if each.value and each.value not in each.reason else ""
        table.refuse(at, f"{each.reason}{value}", each.allowed, do or each.do)
