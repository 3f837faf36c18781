"""What the entry grid asks for: columns, their pieces, and the way through them."""

import hashlib
import json
from dataclasses import asdict, dataclass
from typing import Any, Literal

__all__ = ["GridColumn", "GridLayout"]

Mode = Literal["absolute", "deviation_um"]
Way = Literal["piece", "characteristic"]


@dataclass(frozen=True, slots=True)
class GridColumn:
    """One characteristic to be gauged, as a column for the operator.

    Attributes
    ----------
    name : str
        The plan's name of the characteristic; the key of the answers.
    label : str
        What the operator reads above the column.
    unit : str
        Unit of the typed values, as shown: ``"mm"``, ``"µm"``, ``"°"``.
    pieces : int
        How many pieces this characteristic wants, 1 or more; each column has its own.
    later : bool
        True where the result may come from the measuring room after the check is saved: Enter passes the
        column by, and an empty place in it leaves nothing open.
    mode : {"absolute", "deviation_um"}
        Sizes, or signed deviations in µm from the certified size of the setting master.
    master_size : str
        That certified size as text, with its unit; needed for deviations.
    decimals : int
        Decimals the gauge shows; the head of the column says the step.
    is_noted : bool
        True where something will stand under most of its values, so that room is kept for it.
    nominal, lower, upper : str
        Shown in the head of the column, exactly as given; empty where there is none.
    """

    name: str
    label: str
    unit: str
    pieces: int
    later: bool = False
    mode: Mode = "absolute"
    master_size: str = ""
    decimals: int = 3
    nominal: str = ""
    lower: str = ""
    upper: str = ""
    is_noted: bool = False

    def __post_init__(self) -> None:
        if self.pieces < 1:
            raise ValueError(f"column {self.name!r} asks for {self.pieces} pieces; at least 1 is needed")
        if self.mode not in ("absolute", "deviation_um"):
            raise ValueError(f"column {self.name!r}: mode {self.mode!r} is not 'absolute' or 'deviation_um'")
        if self.mode == "deviation_um" and not self.master_size:
            raise ValueError(f"column {self.name!r} takes deviations, so it needs the size of its master")

    @property
    def step(self) -> str:
        """The smallest step the gauge shows, as text.

        Examples
        --------
        >>> GridColumn("over_pin", "Over pins", "mm", 5, decimals=3).step
        '0.001'
        >>> GridColumn("angle", "Start angle", "°", 1, decimals=0).step
        '1'
        """
        return "1" if self.decimals <= 0 else "0." + "0" * (self.decimals - 1) + "1"

    @property
    def limits(self) -> str:
        """The tolerance in words for the head of the column; empty where the plan gives none.

        Examples
        --------
        >>> GridColumn("d", "Size", "mm", 5, nominal="31.250", lower="31.232", upper="31.268").limits
        '31.232 to 31.268, nominal 31.250'
        >>> GridColumn("runout", "Run-out", "mm", 5, upper="0.020").limits
        'at most 0.020'
        """
        if self.lower and self.upper:
            text = f"{self.lower} to {self.upper}"
        elif self.upper:
            text = f"at most {self.upper}"
        elif self.lower:
            text = f"at least {self.lower}"
        else:
            return f"nominal {self.nominal}" if self.nominal else ""
        shown = f"{text}, nominal {self.nominal}" if self.nominal else text
        return shown.replace("-", "−")


@dataclass(frozen=True, slots=True)
class GridLayout:
    """One check to be typed: which columns, in which order, under which token.

    Attributes
    ----------
    token : str
        Names the check being typed. A new token empties the grid and begins at its first place; a draft
        counts only under the token it was made for.
    columns : tuple of GridColumn
        At least one, each name once.
    by : {"piece", "characteristic"}
        Enter goes through one piece and then the next, or down one characteristic and then the next.
    skip_reasons : tuple of str
        Reasons offered as buttons when a value has to be left out; another may always be typed.
    """

    token: str
    columns: tuple[GridColumn, ...]
    by: Way = "piece"
    skip_reasons: tuple[str, ...] = ("gauge not at hand", "piece damaged after rolling", "piece lost")

    def __post_init__(self) -> None:
        names = [column.name for column in self.columns]
        if not names:
            raise ValueError("an entry grid needs at least one column")
        if len(set(names)) < len(names):
            raise ValueError(f"a column name stands twice among {', '.join(names)}")
        if self.by not in ("piece", "characteristic"):
            raise ValueError(f"by={self.by!r} is not 'piece' or 'characteristic'")

    def to_dict(self) -> dict[str, Any]:
        """Hand the layout to the browser, with a mark that changes whenever the grid has to be built anew."""
        columns = [asdict(column) | {"step": column.step, "limits": column.limits} for column in self.columns]
        layout = {
            "token": self.token,
            "columns": columns,
            "by": self.by,
            "skip_reasons": list(self.skip_reasons),
        }
        mark = hashlib.sha256(json.dumps(layout, sort_keys=True).encode()).hexdigest()[:16]
        return layout | {"mark": mark}
