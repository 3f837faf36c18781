"""For whoever draws or styles a page: the only place for colour, marks and type, light and dark."""

from dataclasses import dataclass
from typing import Any, Final

from spc.drawing.glyphs import VERDICT_GLYPHS

__all__ = [
    "FONT", "LOOKS", "THEMES", "Look", "Theme", "VerdictLook", "look_stroke", "page_colours", "theme",
    "vega_config", "verdict_look",
]  # fmt: skip

FONT: Final = "Source Sans, Liberation Sans, Arial, sans-serif"
"""Ends with the generic family: without it a missing font drops every word from an exported picture."""

TITLE_PX: Final = 17
LABEL_PX: Final = 15
VALUE_PX: Final = 14


@dataclass(frozen=True, slots=True)
class Theme:
    """One set of colours; every one of `data_colours` can also be read as text on `ground`.

    Attributes
    ----------
    ground, plate : str
        Behind everything; behind fields, and the land outside the tolerance.
    ink, quiet, faint : str
        Words and tolerance; second words and limits; hairlines.
    size, watch, adjust, hold : str
        What was gauged and "run on"; "look closer"; the slide and "adjust"; "stop and hold".
    """

    name: str
    ground: str
    plate: str
    ink: str
    quiet: str
    faint: str
    size: str
    watch: str
    adjust: str
    hold: str

    @property
    def data_colours(self) -> tuple[str, ...]:
        """The colours that must be told apart, by everybody."""
        return (self.size, self.watch, self.adjust, self.hold, self.quiet)


THEMES: Final = {
    "light": Theme(
        name="light",
        ground="#F8F6F1",
        plate="#ECE8DF",
        ink="#23292C",
        quiet="#5C6468",
        faint="#DAD6CC",
        size="#1B6C8C",
        watch="#46257A",
        adjust="#9A5B00",
        hold="#7A0E38",
    ),
    "dark": Theme(
        name="dark",
        ground="#151A1D",
        plate="#242B2F",
        ink="#ECE9E2",
        quiet="#B4BEC4",
        faint="#3A4348",
        size="#58C4EA",
        watch="#B184F0",
        adjust="#C9973A",
        hold="#FF6482",
    ),
}


def theme(name: str) -> Theme:
    """Return the colours called "light" or "dark"; anything else is drawn light.

    Examples
    --------
    >>> theme("dark").name
    'dark'
    """
    return THEMES.get(name, THEMES["light"])


@dataclass(frozen=True, slots=True)
class Look:
    """How one sort of check is marked: an own shape, an own fill, and only then a colour.

    Attributes
    ----------
    path : str
        SVG path within -1 … 1, y downwards.
    filled : bool
        Else it is an outline.
    area_px, stroke_px : float
    colour : str
        Name of the field of `Theme`.
    word : str
        In the key above a picture.
    """

    path: str
    filled: bool
    area_px: float
    stroke_px: float
    colour: str
    word: str


_ROUND: Final = "M1,0A1,1,0,1,1,-1,0A1,1,0,1,1,1,0Z"

LOOKS: Final = {
    "ordinary": Look(_ROUND, True, 70, 0, "size", "mean"),
    "asked": Look(
        "M0,-1L0.85,-0.14L-0.85,-0.14ZM0,1L0.85,0.14L-0.85,0.14Z",
        True,
        250,
        0,
        "adjust",
        "move asked for",
    ),
    "against": Look("M0,-1L1,0L0,1L-1,0Z", False, 260, 3, "watch", "look closer"),
    "out": Look("M-1,-1L1,-1L0.25,0L1,1L-1,1L-0.25,0Z", True, 230, 0, "hold", "out or held"),
    "other": Look("M0,-1L0.95,0.75L-0.95,0.75Z", False, 120, 2, "size", "set-up, other"),
    "struck_out": Look(_ROUND + "M-1.4,1.4L1.4,-1.4", False, 90, 1.5, "quiet", "struck out"),
    "left_out": Look(_ROUND + "M-1.7,0L1.7,0", False, 110, 1.5, "quiet", "left out of the limits"),
    "suspect": Look(
        "M-0.4,-0.92A1,1,0,0,0,-0.4,0.92M0.4,-0.92A1,1,0,0,1,0.4,0.92M0,-0.3L0,0.3",
        False,
        190,
        2.2,
        "quiet",
        "in doubt",
    ),
}
"""From the plainest; a later one wins the eye, so it is also drawn on top in this order."""


@dataclass(frozen=True, slots=True)
class VerdictLook:
    """A verdict as a page shows it: its words, its own shape, its colour and what is written on that."""

    words: str
    path: str
    colour: str
    on_colour: str

    def svg(self, side_px: int = 40) -> str:
        """Return the shape alone as inline SVG, for a page or a report."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1.1 -1.1 2.2 2.2" width="{side_px}" '
            f'height="{side_px}" role="img" aria-label="{self.words}">'
            f'<path d="{self.path}" fill="{self.colour}"/></svg>'
        )


_VERDICTS: Final = {
    "run": ("Run on", "size"),
    "watch": ("Look closer", "watch"),
    "correct": ("Adjust", "adjust"),
    "hold": ("Stop and hold", "hold"),
}


def verdict_look(verdict: str, theme_name: str) -> VerdictLook:
    """Return how a verdict looks; KeyError for a word that is no verdict.

    Examples
    --------
    >>> verdict_look("correct", "light").words
    'Adjust'
    """
    words, colour = _VERDICTS[verdict]
    colours = theme(theme_name)
    return VerdictLook(words, VERDICT_GLYPHS[verdict], getattr(colours, colour), colours.ground)


def look_stroke(look: Look, colours: Theme) -> dict[str, Any]:
    """Return the mark properties of a look: an outline lets the ground show, a filled one gets a thin rim."""
    colour = getattr(colours, look.colour)
    if look.filled:
        return {"fill": colour, "stroke": colours.ground, "strokeWidth": 1, "fillOpacity": 1}
    return {"fill": colours.ground, "fillOpacity": 0.6, "stroke": colour, "strokeWidth": look.stroke_px}


def vega_config(colours: Theme) -> dict[str, Any]:
    """Return type and colour for every word and line that a picture doesn't colour itself."""
    return {
        "background": colours.ground,
        "font": FONT,
        "view": {"stroke": None},
        "axis": {
            "labelColor": colours.ink,
            "titleColor": colours.quiet,
            "domainColor": colours.faint,
            "tickColor": colours.faint,
            "gridColor": colours.faint,
            "labelFontSize": VALUE_PX,
            "titleFontSize": LABEL_PX,
            "titleFontWeight": "normal",
            "labelPadding": 6,
            "titlePadding": 10,
        },
        "text": {"color": colours.ink, "fontSize": LABEL_PX, "font": FONT},
        "rule": {"color": colours.ink},
        "line": {"color": colours.size},
        "point": {"color": colours.size},
        "tick": {"color": colours.size},
        "rect": {"color": colours.plate},
        "area": {"color": colours.plate},
    }


def page_colours(colours: Theme) -> dict[str, str | bool]:
    """Return what `.streamlit/config.toml` says under `[theme.light]` or `[theme.dark]`."""
    return {
        "primaryColor": colours.size,
        "backgroundColor": colours.ground,
        "secondaryBackgroundColor": colours.plate,
        "textColor": colours.ink,
        "linkColor": colours.size,
        "borderColor": colours.faint,
        "showWidgetBorder": True,
        "redColor": colours.hold,
        "orangeColor": colours.adjust,
        "yellowColor": colours.adjust,
        "blueColor": colours.size,
        "greenColor": colours.size,
        "violetColor": colours.watch,
        "grayColor": colours.quiet,
    }
