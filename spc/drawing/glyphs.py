"""For the theme: our own small shapes, as SVG paths within -1 … 1 with y downwards."""

from typing import Final

__all__ = ["EVENT_GLYPHS", "VERDICT_GLYPHS", "event_glyph"]

VERDICT_GLYPHS: Final = {
    # an arrow that goes on
    "run": "M-0.95,-0.32L0.1,-0.32L0.1,-0.85L1,0L0.1,0.85L0.1,0.32L-0.95,0.32Z",
    # an open diamond with a point to look at
    "watch": (
        "M0,-1L1,0L0,1L-1,0ZM0,-0.68L-0.68,0L0,0.68L0.68,0Z"
        "M0.24,0A0.24,0.24,0,1,1,-0.24,0A0.24,0.24,0,1,1,0.24,0Z"
    ),
    # one up, one down: the slide goes one way or the other
    "correct": (
        "M-0.5,-1L-0.05,-0.35L-0.33,-0.35L-0.33,0.95L-0.67,0.95L-0.67,-0.35L-0.95,-0.35Z"
        "M0.5,1L0.95,0.35L0.67,0.35L0.67,-0.95L0.33,-0.95L0.33,0.35L0.05,0.35Z"
    ),
    # a plate with a bar across
    "hold": (
        "M-0.41,-1L0.41,-1L1,-0.41L1,0.41L0.41,1L-0.41,1L-1,0.41L-1,-0.41Z"
        "M-0.62,-0.2L-0.62,0.2L0.62,0.2L0.62,-0.2Z"
    ),
}
"""Holes run the other way round, so they stay open under either filling rule."""

_DIES: Final = "M-0.12,-0.95A0.95,0.95,0,0,0,-0.12,0.95ZM0.12,-0.95A0.95,0.95,0,0,1,0.12,0.95Z"
_BARS: Final = "M-1,-0.8L1,-0.8L1,-0.4L-1,-0.4ZM-1,-0.2L1,-0.2L1,0.2L-1,0.2ZM-1,0.4L1,0.4L1,0.8L-1,0.8Z"
_RING: Final = (
    "M1,0A1,1,0,1,1,-1,0A1,1,0,1,1,1,0ZM0.6,0A0.6,0.6,0,1,0,-0.6,0A0.6,0.6,0,1,0,0.6,0Z"
    "M0.22,0A0.22,0.22,0,1,1,-0.22,0A0.22,0.22,0,1,1,0.22,0Z"
)
_PAUSE: Final = "M-0.8,-0.9L-0.2,-0.9L-0.2,0.9L-0.8,0.9ZM0.2,-0.9L0.8,-0.9L0.8,0.9L0.2,0.9Z"
_SLIDE: Final = "M-0.25,-0.9L0.25,-0.9L0.25,0.1L0.8,0.1L0,0.95L-0.8,0.1L-0.25,0.1Z"
_NOTE: Final = "M-0.8,-0.25L0.8,-0.25L0.8,0.25L-0.8,0.25Z"

EVENT_GLYPHS: Final = {
    "die_set_mounted": _DIES,
    "die_set_reground": _DIES,
    "die_set_removed": _DIES,
    "blank_batch": _BARS,
    "gauge_mastered": _RING,
    "machine_stopped": _PAUSE,
    "penetration": _SLIDE,
}


def event_glyph(kind: str) -> str:
    """Return the shape for a kind of event; a short bar for what has no shape of its own."""
    return EVENT_GLYPHS.get(kind, _NOTE)
