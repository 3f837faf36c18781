"""The sizes page, straightness: a profile in its narrowest zone, and what two simpler lines say."""

from streamlit.delta_generator import DeltaGenerator

from spc.drawing.profile import profile_picture
from spc.errors import Refused
from spc.geometry import Straightness, straightness
from spc.pages.look import picture, theme_name
from spc.pages.sizes_examples import stem_profile
from spc.pages.sizes_fields import table_field, tell_cannot
from spc.pages.sizes_look import halves
from spc.pages.sizes_travel import floats
from spc.pages.tell import strip, told

__all__ = ["profile_part"]

_PROFILE = ("position_mm", "height_um")


def profile_part() -> None:
    """Ask for a profile, draw it with its zone and lines and tell how straight it is."""
    fields, answer = halves()
    with answer:
        try:
            _answer(fields)
        except Refused as refused:
            tell_cannot(refused)


def _answer(fields: DeltaGenerator) -> None:
    read = table_field(
        fields, "Position, mm, and height, µm", _PROFILE, stem_profile(), key="profile", height_px=340
    )
    position, height = (floats(read.number(name)) for name in _PROFILE)
    found = straightness(position, height)
    picture(profile_picture(position, height, found, theme_name()), "sizes profile")
    strip(
        [
            ("Narrowest zone", f"{found.minimum_zone_um:.2f} µm", "what counts"),
            ("Least squares", f"{found.least_squares_um:.2f} µm", _about_line(found)),
            ("End points", f"{found.end_points_um:.2f} µm", "line through both"),
        ]
    )
    told(
        [
            ("Points", f"{found.n}, over {position[-1] - position[0]:g} mm; filter a dense trace first."),
            ("Which counts", "The narrowest zone, unless the drawing names another line; the two simpler ones are "
             "never narrower."),
        ]
    )  # fmt: skip


def _about_line(found: Straightness) -> str:
    return f"{found.least_squares_peak_um:.2f} above, {found.least_squares_valley_um:.2f} below"
