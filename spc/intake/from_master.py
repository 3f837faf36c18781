"""Deviations from a setting master become sizes: certified size of the master plus what the comparator shows."""

from dataclasses import dataclass, replace
from decimal import Decimal

from spc.errors import Refusal, Refused
from spc.intake.number import AS_ALLOWED, NumberStyle, plan_fits, read_between
from spc.intake.problem import Problem
from spc.intake.unit import converted
from spc.shop.layouts import LENGTH_UNITS
from spc.shop.limits import ToleranceLimits
from spc.shop.plan import Characteristic

__all__ = [
    "MasterCell", "can_deviate", "from_master_unit", "master_cell", "master_size", "size_from_master",
]  # fmt: skip


def size_from_master(characteristic: Characteristic, text: str) -> Decimal:
    """Turn a deviation in µm into the size, for the entry page and for programs.

    Parameters
    ----------
    characteristic : Characteristic
        A length with a nominal.
    text : str
        Deviation in µm as typed at the comparator, larger is positive; point or comma.

    Returns
    -------
    Decimal
        In the plan's unit, exact; in inches rounded at 28 digits.

    Raises
    ------
    Refused
        The text cannot be read as one number, or no master can be set for the characteristic.

    Notes
    -----
    The deviation is from the certified size of the setting master, not from nominal (common practice, no
    source); where the plan names no certified size the master is taken to have the nominal.

    Examples
    --------
    >>> over_pin = Characteristic(
    ...     "over_pin", "over_pin_diameter", "mm", Decimal("31.250"),
    ...     ToleranceLimits(Decimal("31.232"), Decimal("31.268")), master_size=Decimal("31.252"))
    >>> size_from_master(over_pin, "-1,5")
    Decimal('31.2505')
    """
    cell = master_cell(characteristic)
    found = cell if isinstance(cell, Problem) else cell.size(text)
    if isinstance(found, Decimal):
        return found
    if isinstance(found, Problem):
        raise Refused([found._replace(value=text).at("", None)])
    raise Refused([Refusal(found, text, column=characteristic.name, allowed=AS_ALLOWED)])


def master_size(characteristic: Characteristic) -> Decimal:
    """Return the size of the setting master in the plan's unit: certified, else the nominal."""
    return characteristic.nominal if characteristic.master_size is None else characteristic.master_size


def can_deviate(characteristic: Characteristic) -> bool:
    """Whether a comparator may be set on a master for it: a size, not a deviation."""
    return characteristic.unit in LENGTH_UNITS and characteristic.nominal != 0


def from_master_unit(characteristic: Characteristic) -> str:
    """Return what the record names as the unit of such a text, with the master it was read from.

    Examples
    --------
    >>> from_master_unit(Characteristic(
    ...     "crest", "crest_diameter", "mm", Decimal("33.500"), ToleranceLimits(None, Decimal("33.55"))))
    'um from master 33.500 mm'
    """
    return f"um from master {master_size(characteristic)} {characteristic.unit}"


@dataclass(frozen=True, slots=True)
class MasterCell:
    """How to read the deviations of one characteristic; stands where a cell of sizes may stand."""

    characteristic: Characteristic
    unit: str
    shown: Characteristic
    """The same characteristic as the comparator shows it: µm around its master."""

    def size(self, text: str, style: NumberStyle | None = None) -> Decimal | str:
        """Return the size, or the sentence that says why there is none."""
        deviation = read_between(text, style, plan_fits(self.shown))
        if isinstance(deviation, str):
            return deviation
        return master_size(self.characteristic) + _from_um(deviation, self.characteristic.unit)

    def read(self, text: str, style: NumberStyle | None) -> tuple[Decimal, str] | Problem:
        """Return the size and no answer, or what is wrong with the text."""
        found = self.size(text, style)
        return Problem("value", text, found, AS_ALLOWED) if isinstance(found, str) else (found, "")


def master_cell(characteristic: Characteristic) -> MasterCell | Problem:
    """Prepare to read deviations of a characteristic from its master."""
    if not can_deviate(characteristic):
        reason = f"{characteristic.name} has no size that a setting master could carry"
        return Problem("from_master_um", "", reason, "lengths with a nominal; give this one under values")
    width = characteristic.tolerance.width
    reach = Decimal(500) if width is None else width / _from_um(Decimal(1), characteristic.unit) / 2
    shown = replace(
        characteristic, unit="um", nominal=Decimal(0), tolerance=ToleranceLimits(-reach, reach), target=None
    )
    return MasterCell(characteristic, from_master_unit(characteristic), shown)


def _from_um(deviation_um: Decimal, unit: str) -> Decimal:
    """Turn micrometres into the plan's unit of length."""
    return converted(deviation_um, "um", unit) or Decimal(0)
