"""What pages tell: refusals as one block, the cautions where they belong, a strip of facts, a small table."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

import streamlit as st

from spc.errors import Refusal, Refused
from spc.pages.look import safe

__all__ = [
    "GAUGING",
    "HANDS_IN",
    "PANEL",
    "caution",
    "local_law",
    "strip",
    "table",
    "tell",
    "tell_refused",
    "told",
]

GAUGING = (
    "Gauging",
    "The piece is out and away from the dies. Never gauge, wipe or reach in while dies turn; no gloves near "
    "turning dies.",
)
PANEL = (
    "At the panel",
    "Guards closed, as the machine's manual allows, a trained person. The station moves nothing.",
)
HANDS_IN = (
    "Hands in the machine",
    "Stop, isolate all energy, lock out, try to start. Lifting gear for dies.",
)
_SHORT = 22
_TYPED = "entry"
"""Source of what was typed on a page."""
_LAW = (
    "Local law and codes, the machine maker's manual, the plant's rules and qualified persons come first. "
    "The station gives statistics only, never sends a setting to a machine, and releases no parts by itself."
)


def tell_refused(refused: Refused, title: str = "Not taken. Nothing you typed is lost.") -> None:
    """Show everything that was refused as one readable block."""
    lines = "".join(f"<p>{safe(_on_page(each))}</p>" for each in refused.refusals)
    st.html(f'<div class="spc-refused" role="alert"><p class="title">{safe(title)}</p>{lines}</div>')


def tell(text: str) -> None:
    """Say that something was done."""
    st.html(f'<p class="spc-told" role="status">{safe(text)}</p>')


def caution(words: tuple[str, str]) -> None:
    """Say one of the fixed cautions, no louder than it deserves."""
    st.html(f'<p class="spc-caution"><b>{safe(words[0])}.</b> {safe(words[1])}</p>')


def local_law() -> None:
    """Say, once a page, what comes before everything here."""
    st.html(f'<p class="spc-law">{safe(_LAW)}</p>')


def strip(facts: Iterable[tuple[str, str, str]], late: str = "") -> None:
    """Show facts side by side: (name, value, what stands below it); the one named `late` is underlined."""
    cells = "".join(
        f'<div{" class=late" if name == late else ""}><span class="name">{safe(name)}</span>'
        f'<span class="value">{safe(value)}</span><span class="more">{safe(more)}</span></div>'
        for name, value, more in facts
    )
    st.html(f'<div class="spc-strip">{cells}</div>')


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], struck: Iterable[int] = ()) -> None:
    """Show a plain table to be read, every cell as text; `struck` names rows that no longer count."""
    crossed = set(struck)
    head = "".join(f"<th>{safe(each)}</th>" for each in heads)
    body = "".join(
        f"<tr{' class=struck' if place in crossed else ''}>"
        + "".join(f"<td{_tight(cell)}>{safe(cell)}</td>" for cell in row)
        + "</tr>"
        for place, row in enumerate(rows)
    )
    st.html(f'<div class="spc-scroll"><table class="spc-table"><tr>{head}</tr>{body}</table></div>')


def told(facts: Iterable[tuple[str, str]]) -> None:
    """Show sentences, each behind the word for what it is about."""
    rows = "".join(f"<dt>{safe(what)}</dt><dd>{safe(says)}</dd>" for what, says in facts)
    st.html(f'<dl class="spc-told-of">{rows}</dl>')


def _tight(cell: str) -> str:
    """Short cells stay in one line: an id or a verdict is not broken."""
    return " class=tight" if len(cell) <= _SHORT else ""


def _on_page(refusal: Refusal) -> str:
    """Say a refusal to the person who typed it: a file keeps its name, the page needs none."""
    if refusal.file and refusal.file != _TYPED:
        return refusal.sentence()
    text = replace(refusal, file="").sentence()
    return text[:1].upper() + text[1:]
