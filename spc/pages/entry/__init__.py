"""The inline entry grid: gauge values typed, wedged or pedalled, kept as the text that came."""

from spc.pages.entry.grid import entry_grid, newest_state
from spc.pages.entry.layout import GridColumn, GridLayout
from spc.pages.entry.state import GridCell, GridState, Mark, Meanwhile, Struck

__all__ = [
    "entry_grid", "newest_state", "GridColumn", "GridLayout", "GridState", "GridCell", "Mark", "Struck", "Meanwhile",
]  # fmt: skip
