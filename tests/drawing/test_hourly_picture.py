"""The operator's picture holds the right data, says what it leaves out, and stays small."""

import json
from dataclasses import replace
from decimal import Decimal
from typing import Any

import altair
import pytest
from invented import WORDS, characteristic, every_look, history, layers, named, point

from spc.drawing import hourly_picture, theme, to_png, to_svg
from spc.drawing.checks import check_rows, look_of
from spc.drawing.floor_panels import event_key
from spc.drawing.frame import words_px
from spc.drawing.marks_key import marks_key
from spc.drawing.thin import LARGEST

THEMES = pytest.mark.parametrize("name", ["light", "dark"])


def words_of(spec: dict[str, Any]) -> str:
    return json.dumps(spec, ensure_ascii=False)


def test_the_picture_follows_the_schema() -> None:
    altair.Chart.from_dict(hourly_picture(history(every_look()), "light"))


def test_each_check_gets_the_mark_that_fits_it() -> None:
    looks = [look_of(each, characteristic()) for each in every_look()]
    expected = ["ordinary", "against", "out", "other", "struck_out", "suspect", "ordinary", "ordinary"]
    assert looks == expected
    explained = point(0, says=("The new bar batch explains it.",))
    assert look_of(explained, characteristic()) == "ordinary"
    assert look_of(point(0, 44.528), characteristic()) == "ordinary"  # a piece equal to the limit is inside


def test_a_slide_move_asked_for_is_no_finding_against_the_check() -> None:
    """The mark of a finding stood on every check that wanted the slide moved and had a bar batch explained."""
    moved = point(0, verdict="correct", says=("2 µm up with new bar batch B-19, 08:20",))
    assert look_of(moved, characteristic()) == "asked"
    assert look_of(moved, characteristic(set_by="none")) == "ordinary"  # nothing is said against this size
    assert "move asked for" in words_of(hourly_picture(history((point(0), moved)), "light"))


def test_marks_hold_the_means_and_the_words() -> None:
    marks = named(hourly_picture(history(every_look()), "light"), "checks_y_")
    assert [row["y"] for row in marks["checks_y_ordinary"]] == [44.500, 44.505, 44.506]
    (against,) = marks["checks_y_against"]
    assert against["says"] == WORDS
    assert against["when"] == "Mon 2 Mar 2026, 07:00"
    assert (against["counter"], against["n"], against["mean"]) == ("1,500", "5", "44.5210")


def test_a_wild_entry_stands_at_the_edge_and_does_not_stretch_the_scale() -> None:
    marks = named(hourly_picture(history(every_look()), "light"), "checks_y_")
    (wild,) = marks["checks_y_suspect"]
    assert 44.44 < wild["y"] < 44.47
    assert wild["mean"] == "34.5000"


def test_pieces_are_shown_and_those_outside_stand_out() -> None:
    spec = hourly_picture(history(every_look()), "light")
    assert len(named(spec, "pieces")["pieces"]) == 5 * 6  # without struck out and suspect
    assert [row["piece"] for row in named(spec, "pieces_outside")["pieces_outside"]] == [44.531]


def test_limits_in_force_are_steps_with_their_standing() -> None:
    spec = hourly_picture(history(every_look()), "light")
    limits = named(spec, "limit_")
    assert set(limits) == {
        f"limit_{side}_{how}" for side in ("lower", "upper") for how in ("provisional", "forecast")
    }
    assert {row["limit"] for row in limits["limit_upper_provisional"]} == {44.508}
    assert "limits follow the die" in words_of(spec)
    assert "provisional limits" in words_of(hourly_picture(history((point(0),)), "light"))
    assert "signed limits" in words_of(hourly_picture(history((point(0, standing="signed"),)), "light"))
    without = point(0, lower=None, upper=None, standing="")
    assert named(hourly_picture(history((without,)), "light"), "limit_") == {}


def test_the_tolerance_is_said_in_plain_words_and_one_side_may_be_open() -> None:
    both = words_of(hourly_picture(history(every_look()), "light"))
    assert "largest allowed 44.530" in both
    assert "smallest allowed 44.470" in both
    upper = words_of(
        hourly_picture(history(every_look(), characteristic=characteristic(lower=None)), "light")
    )
    assert "largest allowed 44.530" in upper
    assert "smallest allowed" not in upper
    none = hourly_picture(history(every_look(), characteristic=characteristic(None, None)), "light")
    assert "allowed" not in words_of(none)


@pytest.mark.parametrize("sense", [1, -1])
def test_deeper_is_further_down_whichever_way_the_machine_counts(sense: int) -> None:
    spec = hourly_picture(history(every_look(), sense), "light")
    (scale,) = {
        json.dumps(each["encoding"]["y"]["scale"])
        for each in layers(spec)
        if each["encoding"].get("y", {}).get("field") == "shown"
    }
    low, high = json.loads(scale)["domain"]
    bottom, top = json.loads(scale)["range"]
    place = {
        depth: bottom - (sense * depth - low) / (high - low) * (bottom - top) for depth in (12.340, 12.356)
    }
    assert place[12.356] > place[12.340]
    assert ("−12.356" if sense < 0 else "12.356") in words_of(spec)


def test_events_stand_below_and_slide_moves_only_where_no_setting_is_drawn() -> None:
    spec = words_of(hourly_picture(history(every_look()), "light"))
    assert "new bar batch B-19" in spec
    assert "slide deeper" not in spec
    assert "slide deeper" in words_of(hourly_picture(history(every_look(), settings=()), "light"))


def test_what_cannot_be_drawn_is_said() -> None:
    points = tuple(replace(each, mean_at_reference_setting=None) for each in every_look())
    unknown = words_of(hourly_picture(history(points, settings=()), "light"))
    assert "No slide setting is on record" in unknown
    assert "slide on the panel" not in unknown
    unset = history(points, settings=(), characteristic=characteristic(set_by="none"))
    assert "The slide does not set this" in words_of(hourly_picture(unset, "light"))
    assert "No check of over pins yet." in words_of(hourly_picture(history(()), "light"))


def test_the_axis_counts_checks_where_no_counter_is_known() -> None:
    points = tuple(replace(each, counter=None) for each in every_look())
    spec = words_of(hourly_picture(history(points, axis_counts="checks"), "light"))
    assert '"title": "checks"' in spec
    assert "not known" in spec


@THEMES
def test_every_mark_has_a_colour_of_the_theme(name: str) -> None:
    colours = theme(name)
    ours = {colours.ground, colours.plate, colours.ink, colours.quiet, *colours.data_colours}
    for layer in layers(hourly_picture(history(every_look()), name)):
        mark = layer["mark"]
        used = {mark[key] for key in ("color", "fill", "stroke") if key in mark}
        assert used, mark
        assert used <= ours, mark


def test_a_long_history_is_put_together_and_keeps_what_is_marked() -> None:
    points = tuple(point(number, 44.5 + (number % 7) / 1000) for number in range(3 * LARGEST))
    loud = replace(points[1500], verdict="watch", says=(WORDS,))
    spec = hourly_picture(history((*points[:1500], loud, *points[1501:])), "light")
    marks = named(spec, "checks_y_")
    assert len(marks["checks_y_ordinary"]) <= 310
    assert marks["checks_y_against"][0]["says"] == WORDS
    spans = named(spec, "pieces")["pieces"]
    assert (min(row["low"] for row in spans), max(row["high"] for row in spans)) == (44.498, 44.508)
    assert len(words_of(spec)) < 500_000


def test_the_same_record_is_drawn_once_and_a_changed_one_anew() -> None:
    first = hourly_picture(history(every_look()), "light")
    again = hourly_picture(history(every_look()), "light")
    assert again is not first
    assert again["layer"] is first["layer"]
    points = every_look()
    struck = (replace(points[0], struck_out=True), *points[1:])
    changed = hourly_picture(history(struck), "light")
    assert len(named(changed, "checks_y_")["checks_y_struck_out"]) == 2


def test_one_check_and_one_piece_are_enough() -> None:
    single = point(0, n=1, values=(44.500,), range=0.0)
    spec = hourly_picture(history((single,), settings=(), events=()), "light")
    altair.Chart.from_dict(spec)
    assert named(spec, "pieces") == {}


def test_sizes_in_micrometres_have_their_unit() -> None:
    lead = replace(characteristic("-10", "10"), name="lead", unit="um", nominal=Decimal("0"))
    assert "lead, µm" in words_of(hourly_picture(history((point(0, 1.5),), characteristic=lead), "light"))


def test_the_exported_picture_keeps_its_words() -> None:
    spec = hourly_picture(history(every_look()), "dark")
    svg = to_svg(spec)
    for words in (
        "largest allowed 44.530",
        "limits follow the die",
        "size with the slide moves taken out, mm",
    ):
        assert f"{words}</text>" in svg
    assert theme("dark").ground.lower() in svg.lower()
    assert to_png(spec, 0.5)[:8] == b"\x89PNG\r\n\x1a\n"


def test_what_marks_and_shapes_mean_fits_a_tablets_plot() -> None:
    """Keys that stick out are cut off and shrink the plot; on a tablet it is 640 px wide beside the page list."""
    kinds = ("die_set_mounted", "blank_batch", "gauge_mastered", "machine_stopped", "setting", "penetration")
    shapes, lines = event_key([{"kind": kind, "side": ""} for kind in kinds], 10.0, theme("light"))
    assert lines == 2
    assert event_key([{"kind": "setting", "side": "left"}], 10.0, theme("light")) == ([], 0)
    looks = (*every_look()[:4], point(5, verdict="correct", says=("up with new bars",)))
    marks = marks_key(10.0, check_rows(history(looks)), theme("light"))
    placed = [
        (each["encoding"]["x"]["value"] + each["mark"].get("dx", 0.0), each["mark"]["text"])
        for each in layers({"layer": [*shapes, marks]})
        if each["mark"]["type"] == "text"
    ]
    assert {"look closer", "move asked for", "new bar batch", "stop"} <= {words for _, words in placed}
    assert max(x + words_px(words, 14) for x, words in placed) <= 640.0
