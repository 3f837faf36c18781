"""Pictures: a record in, a chart out; `theme` is the only place for colour, marks and type."""

from spc.drawing.die_board import pieces_left_picture
from spc.drawing.export import to_png, to_svg
from spc.drawing.groove import groove_drawing
from spc.drawing.hourly import hourly_picture
from spc.drawing.pieces import pieces_picture
from spc.drawing.profile import profile_picture
from spc.drawing.theme import Theme, VerdictLook, theme, verdict_look
from spc.drawing.thread import section_of_thread, section_of_worm, thread_drawing
from spc.drawing.tooth import tooth_drawing
from spc.drawing.trace import depth_picture, trace_picture
from spc.drawing.wear_line import wear_line_picture
from spc.drawing.xbar_r import xbar_r_picture

__all__ = [
    "Theme", "VerdictLook", "depth_picture", "groove_drawing", "hourly_picture", "pieces_left_picture",
    "pieces_picture", "profile_picture", "section_of_thread", "section_of_worm", "theme", "thread_drawing",
    "to_png", "to_svg", "tooth_drawing", "trace_picture", "verdict_look", "wear_line_picture", "xbar_r_picture",
]  # fmt: skip
