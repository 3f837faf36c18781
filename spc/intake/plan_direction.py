"""Limits of a start angle: 358.5 to 1.5 around 0 says the same as −1.5 to 1.5, and is kept so."""

from dataclasses import replace
from decimal import Decimal

from spc.intake.direction import as_direction, is_direction
from spc.intake.plan_table import Table
from spc.shop.form_geometry import FormGeometry
from spc.shop.layouts import Kind
from spc.shop.limits import ControlLimits, ToleranceLimits
from spc.shop.plan import Characteristic

__all__ = ["PlanDirection"]


class PlanDirection:
    """Names the numbers of one characteristic near its nominal, where they are directions.

    Parameters
    ----------
    table : Table
        The characteristic; a limit that no direction can be held to is refused there.
    kind : Kind
    unit : str
    nominal : Decimal
    geometry : FormGeometry or None
        Its starts: with k of them a direction comes again after 360°/k.
    """

    def __init__(
        self, table: Table, kind: Kind, unit: str, nominal: Decimal, geometry: FormGeometry | None
    ) -> None:
        self._table = table
        self._bare = Characteristic("", kind, unit, nominal, ToleranceLimits(None, None), geometry=geometry)

    def number(self, value: Decimal | None) -> Decimal | None:
        """Return a number of the plan, near the nominal where it is a direction."""
        return None if value is None else as_direction(value, self._bare)

    def limits(self, limits: ToleranceLimits) -> ToleranceLimits:
        """Return the tolerance, and refuse a limit that no reading can be held to."""
        if not is_direction(self._bare):
            return limits
        for key, value in (("lower", limits.lower), ("upper", limits.upper)):
            if value is not None and abs(value - self._bare.nominal) > 360:
                self._table.refuse(
                    key, "this is more than a whole circle from the nominal", "lower and upper near it"
                )
        return ToleranceLimits(self.number(limits.lower), self.number(limits.upper))

    def signed(self, limits: ControlLimits | None) -> ControlLimits | None:
        """Return the plan's own control limits with their centre near the nominal."""
        if limits is None or not is_direction(self._bare):
            return limits
        return replace(limits, centre=float(self.number(Decimal(repr(limits.centre))) or 0))
