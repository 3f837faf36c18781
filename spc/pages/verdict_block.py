"""The verdict at the top of the page: what to do, why, what to hold back, where it lands, how long the dies last."""

import re
from datetime import datetime
from typing import Final

import streamlit as st

from spc.drawing.theme import verdict_look
from spc.pages.look import mark, safe, theme_name
from spc.pages.reaction_block import folded_reaction, reaction_html
from spc.pages.words import clock_words, life_words, pieces_words, plain, size_words, unit_words
from spc.shop import (
    AlarmAnswered,
    Characteristic,
    Contain,
    Correction,
    DieLife,
    Explanation,
    Plan,
    Signal,
    Subgroup,
    Verdict,
)
from spc.shop.names import shop_name
from spc.station.answers import answer_words
from spc.station.die_words import clock_span
from spc.station.wording import why_adjust

__all__ = ["first_word", "held_words", "lands_words", "likely_words", "show_last_verdict", "show_verdict"]

_WORTH_SAYING: Final = 0.15
_ITSELF: Final = {"spread": "spread"}
"""Kinds of signal that are the sentence of one of their causes."""
_TELLS_ALL: Final = ("isolated", "suspect_entry")
"""Kinds whose sentence holds all the evidence there is."""
_CAUSES: Final = {
    "step": "a step",
    "drift": "a slow change",
    "spread": "pieces that differ more",
    "odd_piece": "one odd piece",
    "entry": "an entry or gauging mistake",
    "warm_up": "a start from cold",
    "batch": "the bar batch",
    "gauge_zero": "the zero of the gauge",
    "over_adjustment": "too much adjusting",
    "wear": "the wear of the dies",
    "setting": "a changed setting",
}
"""What explanations are called on the page; an unknown cause is not worth a sentence."""


def show_verdict(
    verdict: Verdict, plan: Plan, finished_sets: int, now: datetime, answer: AlarmAnswered | None = None
) -> None:
    """Show the verdict on the check that was just saved, to the operator."""
    look = verdict_look(verdict.verdict, theme_name())
    word = first_word(verdict, look.words)
    when = _about(verdict, now) if word == look.words else f"{look.words} · {_about(verdict, now)}"
    parts = [
        f'<p class="word">{safe(word)}<span class="when">{safe(when)}</span></p>',
        f'<p class="next">{safe(_next(verdict, word))}</p>',
        f"<div>{_why(verdict, plan)}{reaction_html(verdict.reaction)}"
        f"{_numbers(verdict, plan, finished_sets)}{_temperature(verdict, plan)}"
        f"{_answered(verdict, answer, now)}</div>",
    ]
    st.html(
        f'<section class="spc-verdict {safe(verdict.verdict)}" style="--tone: {look.colour}" role="status">'
        f'<div class="mark">{mark(look.svg(74))}</div>{"".join(parts)}</section>'
    )


def show_last_verdict(verdict: Verdict, now: datetime, answer: AlarmAnswered | None = None) -> None:
    """Show in one line how the last check ended, before the next one is typed."""
    look = verdict_look(verdict.verdict, theme_name())
    word = first_word(verdict, look.words)
    first = f"<b>{safe(word)}</b>" if word == look.words else f"<b>{safe(word)}.</b> {safe(look.words)}"
    says = f"{first} on the last check, {safe(_about(verdict, now))}. "
    if verdict.verdict != "run":
        says += safe(_next(verdict, word))
    if answer is not None:
        says += f" <b>Answered</b>{safe(_who(verdict, answer, now))}: {safe(answer_words(answer))}."
    st.html(
        f'<section class="spc-verdict small" style="--tone: {look.colour}">'
        f'<div class="mark">{mark(look.svg(26))}</div>'
        f"<div><p>{says}</p>{folded_reaction(verdict.reaction)}</div></section>"
    )


def first_word(verdict: Verdict, word: str) -> str:
    """The verdict's own word; where something points at the dies, *stop* comes before it."""
    stops = verdict.reaction is not None and verdict.reaction.first == "stop"
    return "Stop, no further piece" if stops and verdict.verdict != "hold" else word


def _next(verdict: Verdict, word: str) -> str:
    """The next action, without the word that stands above it already."""
    said = "Stop" if verdict.verdict == "hold" else word
    says = verdict.next_action.removeprefix(f"{said}. ").removeprefix(f"{said}, ")
    return says[:1].upper() + says[1:]


def held_words(contain: Contain) -> str:
    """Say which pieces to hold back, from counter to counter."""
    if contain.pieces is None:
        return "all pieces made since the last good check (no counter on record)"
    start, end = contain.from_counter, contain.to_counter
    if contain.pieces == 0:
        return f"the pieces gauged at counter {end:,}"
    made = f"{contain.pieces:,} piece{'s' if contain.pieces > 1 else ''}"
    return f"{made}, after counter {start:,} up to and with {end:,}"


def lands_words(correction: Correction, plan: Plan) -> str:
    """Say where sizes should come to lie after the move."""
    said = []
    for name, size in correction.lands_at:
        characteristic = plan.characteristic(name)
        about = size_words(size, characteristic)
        said.append(f"{plain(name).lower()} about {about} {unit_words(characteristic.unit)}")
    return ", ".join(said)


def _about(verdict: Verdict, now: datetime) -> str:
    counter = "" if verdict.counter is None else f", counter {verdict.counter:,}"
    return f"{clock_words(verdict.time, verdict.zone, now)}{counter}"


def _why(verdict: Verdict, plan: Plan) -> str:
    html = ""
    adjusts = why_adjust(verdict, plan) if verdict.verdict == "correct" else ""
    reasons = [adjusts[:1].upper() + adjusts[1:]] if adjusts else []
    reasons += [
        _sentence(each.characteristic, each.says) + likely_words(each) for each in _said_once(verdict)
    ]
    if reasons:
        says = "".join(f"<li>{safe(each)}</li>" for each in reasons)
        html += f'<p class="part">Why</p><ul>{says}</ul>'
    steps = tuple(each for each in verdict.explained if each.cause == "step")
    others = tuple(each for each in verdict.explained if each.cause != "step")
    for head, known in (
        ("Known, so no alarm", others),
        ("Told before, and still there", steps),
        ("To know", verdict.notices),
    ):
        if known:
            says = "".join(f"<li>{safe(_sentence(each.characteristic, each.says))}</li>" for each in known)
            html += f'<p class="part">{head}</p><ul>{says}</ul>'
    return html


def _said_once(verdict: Verdict) -> list[Signal]:
    """What is seen by eye first; what only repeats the cause of another signal of the same size, not at all."""
    behind = {
        (each.characteristic, cause.says)
        for each in verdict.signals
        for cause in each.explanations[:1]
        if cause.says != each.says
    }
    told = [each for each in verdict.signals if (each.characteristic, each.says) not in behind]
    return sorted(told, key=lambda each: each.kind != "visual")


def likely_words(signal: Signal) -> str:
    """Say what most likely lies behind a signal, and what else may; "" where nothing is known.

    Nothing is said twice: a cause that the signal itself names is left out or stands alone, without its sentence.

    Examples
    --------
    >>> from spc.shop import Explanation
    >>> told = (Explanation("warm_up", 0.8, "7 µm up"), Explanation("step", 0.15, "6 µm up"))
    >>> likely_words(Signal("over_pin", "beyond_limits", datetime(2026, 3, 2), "the mean is high", told))
    '. Most likely a start from cold: 7 µm up; also possible a step: 6 µm up'
    """
    told = [
        each
        for each in signal.explanations
        if each.cause in _CAUSES and each.weight >= _WORTH_SAYING and each.cause != _ITSELF.get(signal.kind)
    ]
    if not told:
        return ""
    likely = told[0] is max(signal.explanations, key=lambda each: each.weight)
    first, *more = (_cause_words(signal, each) for each in told)
    head = "Most likely" if likely else "Also possible"
    return f". {head} {first}" + "".join(f"; also possible {each}" for each in more)


def _cause_words(signal: Signal, cause: Explanation) -> str:
    """A cause with its evidence, unless the signal has told that already."""
    if signal.kind in _TELLS_ALL or cause.says == signal.says:
        return _CAUSES[cause.cause]
    says = cause.says.partition("; since then")[0] if signal.kind == "spread" else cause.says
    return f"{_CAUSES[cause.cause]}: {says}"


def _sentence(name: str, says: str) -> str:
    """Put the characteristic in front, where the sentence does not name it itself; numbers get a true minus."""
    said, says = shop_name(name), re.sub(r"(?<!\w)-(?=\d)", "−", says)
    if not name or name in says or said in says.lower():
        says = says if not name or said in says.lower() else says.replace(name, said)
        return says[:1].upper() + says[1:]
    return f"{plain(name)}: {says}"


def _numbers(verdict: Verdict, plan: Plan, finished_sets: int) -> str:
    facts: list[tuple[str, str]] = []
    if verdict.reaction is not None and verdict.reaction.first_bad is not None:
        facts.append(("Where the bad ones begin", verdict.reaction.first_bad.says))
    if verdict.correction is not None:
        if len(verdict.correction.lands_at) > 1:  # of one size, the sentence on top says it
            facts.append(("Sizes should come to lie at", lands_words(verdict.correction, plan)))
    elif verdict.no_correction:
        facts.append(("The slide stays", verdict.no_correction[:1].upper() + verdict.no_correction[1:]))
    if verdict.next_check is not None and verdict.verdict != "run":
        facts.append(("Next check", verdict.next_check.says))
    if verdict.die_life is not None and not any(each.kind == "visual" for each in verdict.signals):
        facts.append(("Pieces left in this die set", _left_words(verdict, verdict.die_life, finished_sets)))
        facts.append(("Dies", life_words(verdict.die_life)))
    cells = "".join(
        f'<div><p class="part">{safe(name)}</p><p class="value">{safe(value)}</p></div>'
        for name, value in facts
    )
    return f'<div class="row">{cells}</div>' if cells else ""


def _left_words(verdict: Verdict, life: DieLife, finished_sets: int) -> str:
    """Pieces left, and as times of the plant's clock where enough is known and the machine runs on."""
    pieces = pieces_words(life.pieces_left, finished_sets)
    if life.hours_left is None or finished_sets == 0:
        return pieces
    return f"{pieces} · {clock_span(life.hours_left, verdict.time, verdict.zone)}, running on"


def _temperature(verdict: Verdict, plan: Plan) -> str:
    """Say what was taken off for warmth, and beside it the mean as gauged."""
    said = [
        f"{plain(name)}: {warm_words(group, plan.characteristic(name))}"
        for name, group in verdict.subgroups
        if group.warm is not None
    ]
    lines = "".join(f"<li>{safe(each)}</li>" for each in said)
    return f'<p class="part">Temperature</p><ul>{lines}</ul>' if said else ""


def warm_words(group: Subgroup, characteristic: Characteristic) -> str:
    """Say what the temperatures did to a subgroup; "" where nothing is known of them."""
    warm = group.warm
    if warm is None:
        return ""
    said = warm.says
    if warm.correction_um is not None:
        gauged, judged = (size_words(each, characteristic, 1) for each in (warm.mean_as_gauged, group.mean))
        known = "" if warm.uncertainty_um is None else f", known to ±{2 * warm.uncertainty_um:.1f} µm"
        said += f"{known}; mean {gauged} {unit_words(characteristic.unit)} as gauged, {judged} as judged"
    return f"{said}. {warm.notice[:1].upper()}{warm.notice[1:]}" if "warm:" in warm.notice else said


def _answered(verdict: Verdict, answer: AlarmAnswered | None, now: datetime) -> str:
    if answer is None:
        return ""
    says = f'<p class="part">Answered{safe(_who(verdict, answer, now))}</p>'
    return f'{says}<p class="value">{safe(answer_words(answer))}</p>'


def _who(verdict: Verdict, answer: AlarmAnswered, now: datetime) -> str:
    by = f" by {answer.by}" if answer.by else ""
    return f"{by}, {clock_words(answer.time, verdict.zone, now)}"
