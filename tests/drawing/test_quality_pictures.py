"""Pictures for the quality lead: pieces along their distribution, limits named beside the field, marks with words."""

import json
from dataclasses import replace

import altair
import numpy as np
import pytest
from invented import characteristic, every_look, history, layers, named, point
from scipy.stats import norm

from spc.drawing import xbar_r_picture
from spc.drawing.hourly import hourly_picture
from spc.drawing.probability import probability_picture
from spc.drawing.theme import THEMES
from spc.station.views import FloorEvent
from spc.statistics import model_capability

NORMAL = [[44.5 + 0.004 * float(norm.ppf((5 * i + j + 0.5) / 125)) for j in range(5)] for i in range(25)]


@pytest.mark.parametrize("name", list(THEMES))
def test_normal_pieces_lie_on_their_line(name: str) -> None:
    spec = probability_picture(model_capability(NORMAL, 44.47, 44.53), characteristic(), name)
    assert spec is not None
    altair.Chart.from_dict(spec)
    dots, line = named(spec, "pieces")["pieces"], named(spec, "model")["model"]
    slope = np.polyfit([each["x"] for each in line], [each["z"] for each in line], 1)
    off = [each["z"] - np.polyval(slope, each["x"]) for each in dots]
    assert len(dots) == 125
    assert max(abs(each) for each in off) < 0.15
    assert "largest allowed 44.530" in json.dumps(spec)


def test_a_size_from_zero_has_a_curve_and_no_smallest_allowed() -> None:
    runout = [
        [abs(0.002 + 0.001 * ((7 * i + 3 * j) % 11 - 5) / 5) + 0.0001 for j in range(2)] for i in range(30)
    ]
    one = replace(characteristic("0", "0.030"), kind="runout", name="runout")
    spec = probability_picture(model_capability(runout, 0.0, 0.03, kind="runout"), one, "light")
    assert spec is not None
    assert "largest allowed 0.030" in json.dumps(spec)
    assert "smallest allowed" not in json.dumps(spec)


def test_of_many_pieces_the_outermost_are_all_drawn() -> None:
    many = [[44.5 + 0.004 * float(norm.ppf((5 * i + j + 0.5) / 1500)) for j in range(5)] for i in range(300)]
    spec = probability_picture(model_capability(many, 44.47, 44.53), characteristic(), "light")
    assert spec is not None
    shown = sorted(each["x"] for each in named(spec, "pieces")["pieces"])
    every = sorted(value for check in many for value in check)
    assert len(shown) == 400
    assert (shown[:50], shown[-50:]) == (every[:50], every[-50:])


def test_limits_are_named_above_the_field_with_their_stroke() -> None:
    spec = xbar_r_picture(history(every_look()), "light")
    words = [each for each in layers(spec) if each.get("name", "").startswith("standing_words")]
    assert [each["mark"]["text"] for each in words] == [
        "– – provisional limits      ····· limits follow the die",
        "– – provisional limit      ····· limit of the range",
    ]
    assert words[0]["encoding"]["y"]["value"] < 56  # the field of means begins there


def test_a_mark_without_room_for_its_words_is_explained_below() -> None:
    crowd = tuple(
        FloorEvent(point(0).time, 100.0 + 100 * number, "machine_stopped", "stop: no bars")
        for number in range(9)
    )
    spec = json.dumps(hourly_picture(history(every_look(), events=crowd), "light"), ensure_ascii=False)
    assert '"text": "stop"' in spec
    few = json.dumps(hourly_picture(history(every_look(), events=crowd[:2]), "light"), ensure_ascii=False)
    assert '"text": "stop"' not in few
