"""What the pages say of a size whose geometry the plan names: the tooth behind it, and the way from the drawing."""

import re
from collections.abc import Callable

import pytest
from small_shop import words
from streamlit.testing.v1 import AppTest

from spc.station import Station

RunPage = Callable[[str], AppTest]

OVER_PIN = """
[[characteristic]]
name = "over_pin"
kind = "over_pin_diameter"
unit = "mm"
set_by = "penetration"
"""
SPLINE = """
[characteristic.spline]
module = 1.25
teeth = 22
pressure_angle_deg = 30
pin_mm = 2.4
tooth_thickness_lower_mm = 1.90
tooth_thickness_upper_mm = 1.93
"""
HEAD = """
[part]
id = "P-31"
description = "splined shaft"
[plant]
zone = "Europe/Berlin"
[[machine]]
id = "R1"
slides = "one"
[check]
subgroup_size = 5
"""


@pytest.fixture
def drawn(shop: Station) -> Station:
    """The small shop, where the plan now gives the tooth instead of the size over pins."""
    shop.take_plan(HEAD + OVER_PIN + SPLINE)
    gauge = shop.plans()[0].characteristic("over_pin").geometry
    assert gauge is not None
    assert gauge.at_aim is not None
    values = [f"{gauge.at_aim.gauge_mm + off:.3f}" for off in (-0.002, -0.001, 0.0, 0.001, 0.002)]
    shop.check_in({"machine": "R1", "part": "P-31", "counter": 800, "values": {"over_pin": values}})
    return shop


@pytest.mark.usefixtures("drawn")
def test_the_hourly_page_says_the_tooth_thickness_of_the_last_check(run_page: RunPage) -> None:
    says = words(run_page("hourly:hourly_page"))
    found = re.search(
        r"Tooth thickness behind the last check: (\d\.\d{4}) mm on average, pieces (\S+) to (\S+);", says
    )
    assert found is not None
    mean, small, large = map(float, found.groups())
    assert mean == pytest.approx(1.915, abs=0.0005)  # the middle of the drawing's limits
    assert small < mean < large
    assert "limits 1.9000 to 1.9300 mm." in says


def test_without_geometry_the_hourly_page_stays_quiet(run_page: RunPage) -> None:
    assert "behind the last check" not in words(run_page("hourly:hourly_page"))


@pytest.mark.usefixtures("drawn")
def test_the_plan_page_leads_from_the_drawing_to_the_limits(run_page: RunPage) -> None:
    says = words(run_page("plan_limits:plan_page"))
    assert "From the drawing to the limits" in says
    assert "<th>Over 2.4 mm pins</th>" in says
    assert "1.9300 mm" in says
    assert "from tooth thickness" in says
    assert "thicker than the best one" in says
    assert "a long way off" not in says
    assert "Slide 1 µm deeper" in says
    assert re.search(r"change factor 1\.\d{3}", says)
    assert re.search(r"takes off 0\.\d\d µm, give or take 0\.\d\d: the flanks move in", says)
    assert "slide moves on record teach it better" in says


def test_two_slides_take_twice_as_much_and_a_given_gain_stands(shop: Station, run_page: RunPage) -> None:
    given = OVER_PIN + "penetration_gain = 0.80\n"
    shop.take_plan(HEAD.replace('"one"', '"two"') + given + SPLINE)
    says = words(run_page("plan_limits:plan_page"))
    assert "takes off 1.60 µm with both slides: the plan says so; the geometry alone gives" in says


def test_without_geometry_the_plan_page_explains_nothing(run_page: RunPage) -> None:
    assert "From the drawing to the limits" not in words(run_page("plan_limits:plan_page"))
