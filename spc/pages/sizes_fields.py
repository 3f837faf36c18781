"""For the sizes page: fields that keep what was typed, numbers out of them, tables pasted or dropped."""

from decimal import Decimal
from typing import Final

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from spc.errors import Refusal, Refused
from spc.intake.columns_file import ColumnsRead, read_unbroken
from spc.intake.number import AS_ALLOWED, read_between
from spc.pages.look import safe

__all__ = ["Asked", "choice", "lengths", "table_field", "tell_cannot"]

_LONGEST_MM: Final = 1000
"""A size typed with three decimals, 31,250 or 31.250, is read as the one below this."""
_FORMS: Final = ["csv", "xlsx", "txt", "tsv"]
_PASTED: Final = "the table"


class Asked:
    """The numbers of one part of the page, and what could not be read, told together.

    Parameters
    ----------
    part : str
        Keeps fields of the same name on different parts apart.
    """

    def __init__(self, part: str) -> None:
        self.part = part
        self.refusals: list[Refusal] = []

    def number(self, place: DeltaGenerator, label: str, first: str) -> float:
        """Ask for a number that is needed; 0 stands for one that could not be read, see `sure`."""
        found = self.number_or_none(place, label, first)
        if found is None and not any(each.column == label for each in self.refusals):
            self.refusals.append(Refusal("the value is missing", column=label, allowed=AS_ALLOWED))
        return found or 0.0

    def number_or_none(self, place: DeltaGenerator, label: str, first: str = "") -> float | None:
        """Ask for a number that may be left out."""
        text = _kept_text(place, label, first, f"sizes {self.part} {label}").strip()
        if not text:
            return None
        found = read_between(text, None, lengths)
        if isinstance(found, Decimal):
            return float(found)
        self.refusals.append(Refusal(found, text, column=label, allowed=AS_ALLOWED))
        return None

    def count(self, place: DeltaGenerator, label: str, first: str) -> int:
        """Ask for a whole number; the geometry says which ones it takes."""
        found = self.number(place, label, first)
        if found != int(found):
            self.refusals.append(Refusal("a count is a whole number", f"{found:g}", column=label))
        return int(found)

    def sure(self) -> None:
        """Refuse, all at once, what could not be read.

        Raises
        ------
        Refused
            At least one field holds no number.
        """
        if self.refusals:
            raise Refused(self.refusals)


def lengths(value: Decimal) -> bool:
    """Tell whether a number can be a size in mm, where a text has two readings."""
    return abs(value) < _LONGEST_MM


def choice(place: DeltaGenerator, label: str, options: list[str], key: str, *, buttons: bool = False) -> str:
    """Let somebody choose one of a few words; what was chosen comes back with the page."""
    name = f"sizes {key}"
    if name not in st.session_state:
        st.session_state[name] = st.session_state.get(f"kept {name}", options[0])
    if buttons:
        chosen = place.segmented_control(label, options, key=name, required=True)
    else:
        chosen = place.selectbox(label, options, key=name)
    chosen = chosen or options[0]
    st.session_state[f"kept {name}"] = chosen
    return str(chosen)


def table_field(
    place: DeltaGenerator,
    label: str,
    names: tuple[str, ...],
    first: str,
    *,
    optional: tuple[str, ...] = (),
    key: str,
    height_px: int = 190,
) -> ColumnsRead:
    """Ask for a table measured along a part: pasted or typed, or dropped as a file, which then counts.

    Parameters
    ----------
    names, optional : tuple of str
        Columns needed, and columns after them that may be missing.
    first : str
        What stands there at first.

    Raises
    ------
    Refused
        No such table, or a cell without a number.
    """
    columns = " and ".join(names) + "".join(f", perhaps {each}" for each in optional)
    text = _kept_text(place, label, first, f"sizes {key} table", area_px=height_px, asks=columns)
    dropped = place.file_uploader(f"or a file of {columns}", type=_FORMS, key=f"sizes {key} file")
    if dropped is None:
        source = (_PASTED, with_header(text, (*names, *optional)).encode())
    else:
        source = (dropped.name, dropped.getvalue())
    try:
        read = read_unbroken(source, (*names, *optional))
    except Refused as refused:
        if not optional or not _lacks_only(refused, optional):
            raise
        read = read_unbroken(source, names)
    for each in read.refusals:
        place.caption(each.sentence())
    return read


def tell_cannot(refused: Refused) -> None:
    """Say in one calm paragraph, beside the fields, why nothing can be worked out."""
    said = " ".join(_on_page(each) for each in refused.refusals)
    st.html(f'<p class="spc-cannot" role="status">{safe(said)}</p>')


def with_header(text: str, names: tuple[str, ...]) -> str:
    r"""Put the names above a table that was pasted without them, and a tab between numbers set apart by blanks.

    Examples
    --------
    >>> with_header("0 1.5\n10 2", ("position_mm", "height_um"))
    'position_mm\theight_um\n0\t1.5\n10\t2'
    >>> with_header("position_mm;height_um\n0;1,5", ("position_mm", "height_um"))
    'position_mm;height_um\n0;1,5'
    """
    lines = [line.strip() for line in text.strip().splitlines() if line.strip()]
    if lines and all(_is_set_apart_by_blanks(line) for line in lines):
        lines = ["\t".join(line.split()) for line in lines]
    if lines and not any(letter.isalpha() for letter in lines[0]):
        separator = next((each for each in (";", "\t", ",") if each in lines[0]), "\t")
        many = len(lines[0].split(separator))
        lines.insert(0, separator.join(names[:many]))
    return "\n".join(lines)


def _is_set_apart_by_blanks(line: str) -> bool:
    words = line.split()
    return (
        len(words) > 1 and not any(mark in line for mark in ";\t") and not any(w.endswith(",") for w in words)
    )


def _lacks_only(refused: Refused, optional: tuple[str, ...]) -> bool:
    return all(
        each.column in optional and not each.value and not (each.row or 0) > 1 for each in refused.refusals
    )


def _kept_text(
    place: DeltaGenerator, label: str, first: str, name: str, *, area_px: int = 0, asks: str = ""
) -> str:
    """Ask for a text that comes back when the page is opened again."""
    if name not in st.session_state:
        st.session_state[name] = st.session_state.get(f"kept {name}", first)
    if area_px:
        text = place.text_area(label, key=name, height=area_px, placeholder=asks)
    else:
        text = place.text_input(label, key=name)
    st.session_state[f"kept {name}"] = text
    return str(text or "")


def _on_page(refusal: Refusal) -> str:
    text = refusal.sentence()
    return text[:1].upper() + text[1:]
