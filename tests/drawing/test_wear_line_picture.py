"""The wear line of a set: its checks, its band, earlier sets behind it, and where it ends."""

from dataclasses import replace

import altair
import pytest
from invented import characteristic, layers, named

from spc.drawing import to_svg, wear_line_picture
from spc.drawing.frame import words_px
from spc.drawing.theme import THEMES
from spc.shop import PiecesLeft
from spc.station.views import EarlierLine, WearPoint, WearStory

BOTH = pytest.mark.parametrize("name", list(THEMES))

POINTS = tuple(
    WearPoint(300 * n, 44.500 + 0.0005 * n, 44.500 + 0.0005 * n, 44.498 + 0.0005 * n, 44.502 + 0.0005 * n)
    for n in range(1, 30)
)
EARLIER = (
    EarlierLine("D-01", ((10.0, 44.500), (9_000.0, 44.520), (21_000.0, 44.548))),
    EarlierLine("D-01", ((20.0, 44.500), (8_000.0, 44.520), (17_000.0, 44.548))),
)
STORY = WearStory(
    "R2", "4711", "D-07", characteristic(), 8_700, POINTS, EARLIER, 44.548, "over pins needs more infeed",
    PiecesLeft(4_000, 6_000, 9_000, 11_000, 15_000),
)  # fmt: skip


@BOTH
def test_the_way_of_a_set(name: str) -> None:
    spec = wear_line_picture(STORY, name)
    altair.Chart.from_dict(spec)
    svg = to_svg(spec)
    assert "over pins, the slide moves taken out, mm" in svg
    assert "dies off at 44.548" in svg
    assert "2 earlier sets" in svg
    assert len(named(spec, "checks")["checks"]) == len(POINTS)
    assert {row["life"] for row in named(spec, "earlier")["earlier"]} == {"0", "1"}  # one set, two lives
    assert named(spec, "likely")["likely"][0]["likely"] == 8_700 + 9_000


@BOTH
def test_a_set_without_past_and_without_line(name: str) -> None:
    bare = tuple(replace(point, line=None, low=None, high=None) for point in POINTS[:3])
    story = replace(STORY, points=bare, earlier=(), left=PiecesLeft(None, None, None, None, None))
    spec = wear_line_picture(story, name)
    svg = to_svg(spec)
    assert "earlier set" not in svg
    assert not {"band", "wear line", "earlier", "likely"} & {each.get("name") for each in layers(spec)}


@BOTH
def test_before_a_set_has_ended_early_to_late_is_a_broken_stroke(name: str) -> None:
    """Ground rule 10: before the first finished set no likely number is named."""
    spec = wear_line_picture(replace(STORY, earlier=()), name)
    assert not named(spec, "likely")
    broken = [each["mark"] for each in layers(spec) if each["mark"].get("strokeDash") == [3, 5]]
    assert len(broken) == 1


@pytest.mark.parametrize("spec", [wear_line_picture(STORY, "light")])
def test_no_fixed_words_reach_beyond_a_tablets_plot(spec: dict[str, object]) -> None:
    """Words that stick out shrink the plot: a picture on a tablet was a third as wide as the page."""
    placed = [each for each in layers(spec) if each["mark"]["type"] == "text" and "text" in each["mark"]]
    ends = [each["encoding"]["x"]["value"] + words_px(each["mark"]["text"], 17) for each in placed]
    assert max(ends) < 640.0


def test_what_the_slide_does_not_set_has_no_moves_to_take_out() -> None:
    story = replace(STORY, characteristic=characteristic(set_by="none"), end_size=44.470)
    svg = to_svg(wear_line_picture(story, "light"))
    assert "slide moves" not in svg
    assert "dies off at 44.470" in svg
