"""A trace taken at the hourly page: its values in the grid, its curve in the record, its refusals in words."""

from collections.abc import Callable
from typing import Any

from small_shop import PLAN, press, words
from streamlit.testing.v1 import AppTest

from spc.intake import read_plan
from spc.pages.drafts import read_draft
from spc.pages.grid_of_plan import grid_layout
from spc.pages.held_traces import note_of
from spc.pages.strike_out import Past, _lay_out, gauged_check
from spc.pages.trace_upload import TRACES
from spc.pages.type_check import draft_key
from spc.station import Station

RunPage = Callable[[str], AppTest]
HOURLY = "hourly:hourly_page"
TRACED = (
    PLAN[: PLAN.index("[[characteristic]]")]
    + """
[[characteristic]]
name = "mean_travel"
kind = "mean_travel_deviation"
unit = "um"
lower = -20
upper = 20
subgroup_size = 2
[[characteristic]]
name = "wobble"
kind = "travel_variation"
unit = "mm"
upper = 0.012
subgroup_size = 1
[[characteristic]]
name = "bow"
kind = "straightness"
unit = "mm"
upper = 0.020
subgroup_size = 1
"""
)
L1 = "position_mm,deviation_um\n" + "".join(
    f"{100 * place},{height}\n" for place, height in enumerate((0, 2, 5, 4, 8, 9, 14))
)
PROFILE = b"position_mm;height_um\n0;0\n1;3\n2;1\n3;4\n4;2,0\n"
KEY = draft_key("R1", "P-31")


def opened(shop: Station, run_page: RunPage) -> AppTest:
    shop.take_plan(TRACED)
    return run_page(HOURLY)


def take(page: AppTest, name: str, content: bytes | str) -> None:
    content = content.encode() if isinstance(content, str) else content
    page.file_uploader[0].upload(name, content).run()
    assert not page.exception


def grid_texts(shop: Station) -> dict[str, tuple[str, ...]]:
    grid = read_draft(shop, KEY).grid
    assert grid is not None
    return {column: grid.texts(column) for column in grid.cells}


def test_no_trace_is_asked_for_where_the_plan_reads_none(run_page: RunPage) -> None:
    assert not run_page(HOURLY).file_uploader


def test_one_trace_fills_all_its_places_and_is_kept(shop: Station, run_page: RunPage) -> None:
    page = opened(shop, run_page)
    take(page, "lead.csv", L1)
    assert grid_texts(shop) == {"mean_travel": ("12.64", ""), "wobble": ("0.00368",), "bow": ("",)}
    assert "Piece 1, from trace lead.csv, 7 points: Mean travel 12.64 µm; Wobble 0.00368 mm" in words(page)
    fields = read_draft(shop, KEY).fields
    assert note_of(fields[TRACES], "mean_travel", 1, "12.64") == "from trace lead.csv, 7 points"
    assert note_of(fields[TRACES], "mean_travel", 1, "12.6") is None
    next(each for each in page.selectbox if each.label == "Of piece").select(2).run()
    take(page, "second.csv", L1.replace("600,14", "600,7"))
    next(each for each in page.selectbox if each.label == "Of piece").select(1).run()
    take(page, "stem.csv", PROFILE)
    assert grid_texts(shop)["bow"] == ("0.00250",)
    press(page, "Save the check")
    verdict = shop.operator_view("P-31", "R1").last_verdict
    assert verdict is not None
    check = gauged_check(shop, verdict.check_id or 0)
    assert [(each.name, each.piece, each.gives) for each in check.traces] == [
        ("lead.csv", 1, ("mean_travel", "wobble")),
        ("second.csv", 2, ("mean_travel",)),
        ("stem.csv", 1, ("bow",)),
    ]
    assert str(check.traces[2].points[4][1]) == "2.0"


def test_a_curve_that_cannot_be_taken_is_told_and_the_rest_stays(shop: Station, run_page: RunPage) -> None:
    page = opened(shop, run_page)
    take(page, "lead.csv", L1)
    before = grid_texts(shop)
    take(page, "back.csv", "position_mm,deviation_um\n0,0\n20,1\n10,2\n30,2\n")
    assert "back.csv, Mean travel: the position goes back after point 2 of the trace" in words(page)
    assert "Nothing you typed is lost" in words(page)
    assert grid_texts(shop) == before
    take(page, "depth.csv", "position_mm,depth_mm\n0,1.5\n10,1.5\n")
    assert "nothing in this plan is read from it" in words(page)
    assert "Allowed: height_um or deviation_um" in words(page)
    take(page, "lead.csv", L1)
    assert "nothing in this plan" not in words(page)


def test_a_value_typed_over_is_refused_beside_its_trace(shop: Station, run_page: RunPage) -> None:
    page = opened(shop, run_page)
    take(page, "lead.csv", L1)
    take(page, "stem.csv", PROFILE)
    grid = read_draft(shop, KEY).grid
    assert grid is not None
    typed = grid.with_text("mean_travel", 1, "5").with_text("mean_travel", 2, "4")
    page.session_state["readings"] = {"grid": typed.to_dict()}
    page.run()
    press(page, "Save the check")
    assert "the trace lead.csv gives 12.64 um here" in words(page)
    press(page, "Take it away")
    assert grid_texts(shop) == {"mean_travel": ("5", "4"), "wobble": ("",), "bow": ("0.00250",)}


def test_a_struck_out_check_comes_back_with_its_traces(shop: Station, run_page: RunPage) -> None:
    opened(shop, run_page)
    points = [[100 * place, height] for place, height in enumerate((0, 2, 5, 4, 8, 9, 14))]
    given: dict[str, Any] = {"trace": points, "name": "lead.csv"}
    values = {"mean_travel": [given], "wobble": [given]}
    verdict = shop.check_in(
        {"time": "2026-03-02T08:55", "machine": "R1", "part": "P-31", "counter": 900, "values": values}
    )
    view = shop.operator_view("P-31", "R1")
    _lay_out(Past(shop, view, {}), verdict.check_id or 0)
    assert grid_texts(shop)["mean_travel"] == ("12.64", "")
    fields = read_draft(shop, KEY).fields
    assert note_of(fields[TRACES], "wobble", 1, "0.00368") == "from trace lead.csv, 7 points"


def test_room_is_kept_under_a_traced_value() -> None:
    layout = grid_layout(read_plan(TRACED), "t", deviations=False)
    assert layout is not None
    assert all(column.is_noted for column in layout.columns)
