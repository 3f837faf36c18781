"""Pictures: a record in, a chart out; `theme` is the only place for colour, marks and type."""

from spc.drawing.die_board import pieces_left_picture, two_digits
from spc.drawing.export import to_png, to_svg
from spc.drawing.hourly import hourly_picture
from spc.drawing.pieces import pieces_picture
from spc.drawing.theme import Theme, VerdictLook, theme, verdict_look
from spc.drawing.xbar_r import xbar_r_picture

__all__ = [
    "Theme", "VerdictLook", "hourly_picture", "pieces_left_picture", "pieces_picture", "theme", "to_png",
    "to_svg", "two_digits", "verdict_look", "xbar_r_picture",
]  # fmt: skip
