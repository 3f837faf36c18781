"""The last checks as a table; one can be struck out with a reason, entered again, or completed later."""

from dataclasses import dataclass

import streamlit as st

from spc.drawing.theme import verdict_look
from spc.pages.look_back import check_name, seen_again
from spc.pages.strike_out import Past, complete, strike_out
from spc.pages.tell import table
from spc.pages.words import PURPOSE_WORDS, clock_words, plain, size_words, unit_words
from spc.station import Station
from spc.station.views import CharacteristicHistory, CheckPoint, OperatorView

__all__ = ["past_checks"]

_SHOWN = 12


@dataclass(frozen=True, slots=True)
class _Row:
    """One check, its points by characteristic."""

    first: CheckPoint
    points: dict[str, CheckPoint]


def past_checks(station: Station, view: OperatorView, histories: tuple[CharacteristicHistory, ...]) -> None:
    """Show the last checks, newest first."""
    rows = _rows(histories)
    st.header("The last checks")
    gauged = [history.characteristic for history in histories]
    heads = ["Made at", "Counter", "For", "Verdict"]
    heads += [f"{plain(each.name)}, {unit_words(each.unit)}" for each in gauged]
    cells = []
    for row in rows:
        point = row.first
        line = [
            clock_words(point.time, view.plan.zone),
            "" if point.counter is None else f"{point.counter:,}",
            PURPOSE_WORDS.get(point.purpose, point.purpose),
            "struck out" if point.struck_out else verdict_look(point.verdict, "light").words,
        ]
        for characteristic in gauged:
            found = row.points.get(characteristic.name)
            line.append("" if found is None else size_words(found.mean, characteristic, 1))
        cells.append(line)
    st.caption("Means of the pieces of a check; newest first.")
    table(heads, cells, [place for place, row in enumerate(rows) if row.first.struck_out])
    seen_again(station, view, histories)
    _offer(station, view, [row for row in rows if not row.first.struck_out])


def _rows(histories: tuple[CharacteristicHistory, ...]) -> list[_Row]:
    found: dict[int, _Row] = {}
    for history in histories:
        for point in history.points:
            row = found.setdefault(point.check_id, _Row(point, {}))
            row.points[history.characteristic.name] = point
    newest = sorted(found.values(), key=lambda row: (row.first.time, row.first.check_id), reverse=True)
    return newest[:_SHOWN]


def _offer(station: Station, view: OperatorView, rows: list[_Row]) -> None:
    if not rows:
        return
    past = Past(station, view, {row.first.check_id: check_name(row.first, view.plan.zone) for row in rows})
    pressed = None
    with st.container(horizontal=True):
        if st.button("Strike a check out", on_click=past.open_anew):
            pressed = strike_out
        if any(each.later or each.at != ("every",) for each in view.plan.gauged) and st.button(
            "Add a result that came later", on_click=past.open_anew
        ):
            pressed = complete
    if pressed is not None:
        pressed(past)
