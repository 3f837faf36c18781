"""The die board: every machine, its dies, how long they last and when to change them, for the supervisor."""

import streamlit as st

from spc.drawing.die_board import pieces_left_picture
from spc.drawing.theme import verdict_look
from spc.drawing.wear_line import wear_line_picture
from spc.pages.change_words import change_words, growth_words, no_advice_words
from spc.pages.look import picture, theme_name
from spc.pages.pick import plans_or_tell
from spc.pages.tell import tell, told
from spc.pages.the_station import the_station
from spc.pages.words import clock_words, pieces_words
from spc.shop.names import shop_name
from spc.station import Station
from spc.station.die_words import clock_span, end_words, sudden_words
from spc.station.views import DieBoardRow

__all__ = ["die_board_page"]


def die_board_page() -> None:
    """Show a supervisor which dies come off next, and what to plan for."""
    st.title("Die board")
    station = the_station()
    if not plans_or_tell(station):
        return
    rows = station.die_board()
    if not rows:
        tell("No die set is mounted anywhere.")
        return
    st.write(
        "Who must act first stands first. Nine of ten sets should end between early and late; times count from "
        "the last check at the present pieces an hour, running round the clock. In the pictures of each set the line "
        "is what the dies alone have made of the size, and nine of ten lines lie in its band."
    )
    picture(pieces_left_picture(rows, theme_name()), "die board picture")
    for row in rows:
        _one_set(station, row)


def _one_set(station: Station, row: DieBoardRow) -> None:
    name = "die set not named" if row.die_set is None else f"die set {row.die_set}"
    st.header(f"{row.machine} · {row.part} · {name}")
    told(_facts(row))
    story = None if row.life is None else station.wear_story(row.part, row.machine)
    if story is not None:
        picture(wear_line_picture(story, theme_name()), f"wear {row.machine} {row.part}")


def _facts(row: DieBoardRow) -> list[tuple[str, str]]:
    """What to plan for first, then why, then what is on."""
    life = row.life
    facts = [("Pieces left", pieces_words(None if life is None else life.pieces_left, row.finished_sets))]
    if row.hours is not None and row.last_check is not None and row.finished_sets > 0:
        facts.append(("On the clock", clock_span(row.hours, row.last_check, row.zone)))
    if life is not None:
        changes = no_advice_words(row) if row.change is None else change_words(row)
        facts += [("Change the dies" if place == 0 else "", says) for place, says in enumerate(changes)]
        facts.append(("Most likely end", end_words(life)))
        if row.infeed_left_mm is not None:
            left = max(row.infeed_left_mm, 0.0)
            facts.append(("Infeed left", f"{left:.3f} of {life.correction_travel_mm:.3f} mm"))
        growth = f"Growth of {shop_name(life.limited_by)}"
        facts.append((growth, growth_words(life.wear_um_per_1000, row.earlier_growth)))
    return [*facts, ("Sudden ends", sudden_words(row.sudden)), *_what_is_on(row)]


def _what_is_on(row: DieBoardRow) -> list[tuple[str, str]]:
    last = "" if row.last_check is None else clock_words(row.last_check, row.zone)
    word = f": {verdict_look(row.verdict, 'light').words}" if row.verdict else ""
    age = "not known" if row.age is None else f"{row.age:,} pieces"
    pace = "" if row.pieces_per_hour is None else f", about {row.pieces_per_hour:.0f} an hour"
    return [("Age", f"{age}{pace}"), ("Last check", f"{last}{word}"), ("Part", row.description)]
