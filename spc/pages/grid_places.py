"""The columns of a characteristic in the grid: one, or one for each position on the piece."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from spc.pages.words import plain
from spc.shop import Characteristic, Plan

__all__ = ["GridPlace", "grid_places", "place_of"]

_BETWEEN: Final = " @ "


class GridPlace(NamedTuple):
    """A column of the grid: what is gauged in it, and where on the piece ("" where there is one place only)."""

    characteristic: Characteristic
    position: str = ""

    @property
    def column(self) -> str:
        """Name of the column."""
        name = self.characteristic.name
        return f"{name}{_BETWEEN}{self.position}" if self.position else name

    @property
    def label(self) -> str:
        """What stands above it."""
        label = plain(self.characteristic.name)
        return f"{label}, {self.position}" if self.position else label


def grid_places(plan: Plan) -> Iterator[GridPlace]:
    """Go through the columns of a plan, for the grid and for what reads it; several positions are one piece."""
    for characteristic in plan.gauged:
        for position in characteristic.positions or ("",):
            yield GridPlace(characteristic, position)


def place_of(plan: Plan, column: str) -> GridPlace:
    """Return what stands in a column; KeyError where the plan has none of this name."""
    for place in grid_places(plan):
        if place.column == column:
            return place
    raise KeyError(column)
