"""The die board: every machine, its dies, and how many pieces they still have, for the supervisor."""

import streamlit as st

from spc.drawing.die_board import pieces_left_picture
from spc.drawing.theme import verdict_look
from spc.pages.look import picture, theme_name
from spc.pages.pick import plans_or_tell
from spc.pages.tell import table, tell
from spc.pages.the_station import the_station
from spc.pages.words import clock_words, pieces_words, signed
from spc.station.views import DieBoardRow

__all__ = ["die_board_page"]

_HEADS = (
    "Machine", "Part", "Die set", "Age, pieces", "Pieces left", "Growth per 1,000 pieces",
    "Infeed left", "Pieces an hour", "Last check",
)  # fmt: skip


def die_board_page() -> None:
    """Show a supervisor which dies come off next."""
    st.title("Die board")
    station = the_station()
    if not plans_or_tell(station):
        return
    rows = tuple(sorted(station.die_board(), key=_soonest))
    if not rows:
        tell("No die set is mounted anywhere.")
        return
    st.write(
        "The dies that come off soonest stand first. Nine of ten sets should end between early and late."
    )
    picture(pieces_left_picture(rows, theme_name()), "die board picture")
    st.header("The same in numbers")
    table(_HEADS, [_cells(row) for row in rows])


def _soonest(row: DieBoardRow) -> tuple[float, str]:
    left = None if row.life is None else row.life.pieces_left
    likely = None if left is None else left.p50 if left.p50 is not None else left.p05
    return (float("inf") if likely is None else float(likely), row.machine)


def _cells(row: DieBoardRow) -> list[str]:
    life = row.life
    growth = infeed = ""
    if life is not None:
        rate = life.wear_um_per_1000
        growth = f"{signed(rate.estimate)} µm ({signed(rate.low90)} to {signed(rate.high90)})"
        travel = life.correction_travel_mm
        of = "" if travel is None else f" of {travel:.3f}"
        infeed = "" if row.infeed_left_mm is None else f"{row.infeed_left_mm:.3f}{of} mm"
    last = "" if row.last_check is None else clock_words(row.last_check, row.zone)
    word = f": {verdict_look(row.verdict, 'light').words}" if row.verdict else ""
    return [
        row.machine,
        row.part,
        row.die_set or "not named",
        "" if row.age is None else f"{row.age:,}",
        pieces_words(None if life is None else life.pieces_left, row.finished_sets),
        growth,
        infeed,
        "" if row.pieces_per_hour is None else f"about {row.pieces_per_hour:.0f}",
        f"{last}{word}",
    ]
