"""For the sizes page: what a move of the slide does to the sizes of this part."""

from typing import Final

from streamlit.delta_generator import DeltaGenerator

from spc.geometry import SlideChange, slide_changes
from spc.pages.sizes_fields import Asked, choice

__all__ = ["asked_move", "change_words", "move_facts"]

_SLIDES: Final = {"one moves": "one", "two move": "two"}
_DIES: Final = {"two profiled dies": "profiled", "one against a plain die": "plain"}
_NAMES: Final = {
    "over_pin_diameter": "over pins",
    "over_wire_diameter": "over wires",
    "over_ball_diameter": "over balls",
    "diameter": "root diameter",
    "crest_diameter": "crest diameter",
    "groove_depth": "groove depth",
    "wall_thickness": "wall",
}


def asked_move(place: DeltaGenerator, asked: Asked) -> tuple[float, str, str]:
    """Ask how far the slide goes deeper (µm), how many slides move and against which die."""
    left, right = place.columns(2)
    deeper = asked.number(left, "Slide deeper by, µm", "10")
    slides = choice(right, "Slides", list(_SLIDES), f"{asked.part} slides")
    dies = choice(place, "Dies", list(_DIES), f"{asked.part} dies")
    return deeper, _SLIDES[slides], _DIES[dies]


def move_facts(
    move: tuple[float, str, str], form: str, over_pin_gain: float | None = None
) -> tuple[tuple[str, str, str], list[tuple[str, str]]]:
    """Return the first change as (name, value, more) for the strip, and all of them as (what, sentence)."""
    deeper, slides, dies = move
    changes = slide_changes(deeper, form=form, slides=slides, opposite_die=dies, over_pin_gain=over_pin_gain)
    first = changes[0]
    strip = (f"Slide {deeper:g} µm deeper", change_words(first.change_um), _NAMES[first.kind])
    rest = "; ".join(_one(each) for each in changes[1:])
    per_um = f"1 µm of slide is {abs(first.gain):.2f} µm {_NAMES[first.kind]}: {first.says}."
    spring = "First guesses from the geometry; the spring of the machine takes up to a fifth off."
    return strip, [("Slide", f"{per_um} {spring}"), ("The same move", f"{rest[:1].upper()}{rest[1:]}.")]


def change_words(change_um: float) -> str:
    """Say a change with its sign.

    Examples
    --------
    >>> change_words(-8.917), change_words(10.0), change_words(0.0)
    ('8.9 µm less', '10.0 µm more', 'no change')
    """
    if round(change_um, 1) == 0.0:
        return "no change"
    return f"{abs(change_um):.1f} µm {'more' if change_um > 0 else 'less'}"


def _one(change: SlideChange) -> str:
    return f"{_NAMES[change.kind]} {change_words(change.change_um)} ({change.says})"
