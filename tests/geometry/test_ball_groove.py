"""Ball grooves over balls: by hand for straight ones, by a ball pressed on a sampled groove for screws."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize

from spc.errors import Refused
from spc.geometry import BallGroove, groove_from_over_balls, over_balls, wear_over_balls

GOTHIC = BallGroove(arc_radius_mm=2.0, arc_offset_mm=0.12, centre_diameter_mm=31.0)


def test_a_straight_gothic_groove_by_hand() -> None:
    """Arc 2.0, ball 3.6: their centres are 0.2 apart, 0.12 across, so 0.16 (3-4-5) further in."""
    found = over_balls(GOTHIC, 3.6)
    assert found.over_ball_mm == pytest.approx(31.0 - 2 * 0.16 + 3.6, abs=1e-12)
    assert found.contact_angle_deg == pytest.approx(math.degrees(math.asin(0.6)), abs=1e-12)
    assert found.groove_bottom_mm == pytest.approx(31.0 - 2 * math.sqrt(4 - 0.0144), abs=1e-12)


def test_a_round_groove_carries_the_ball_on_its_bottom() -> None:
    for lead in (None, 10.0):
        found = over_balls(BallGroove(2.0, 0.0, 31.0, lead), 3.6)
        assert found.over_ball_mm == pytest.approx(31.0 - 4.0 + 2 * 3.6, abs=1e-9)
        assert found.contact_angle_deg == 0.0


def test_an_odd_count_of_straight_grooves_is_gauged_over_the_most_opposite() -> None:
    even, odd = (over_balls(BallGroove(2.0, 0.12, 31.0, None, count), 3.6) for count in (4, 5))
    across = math.hypot(1 - math.cos(math.radians(144)), math.sin(math.radians(144))) * odd.ball_circle_mm / 2
    assert odd.over_ball_mm == pytest.approx(across + 3.6, abs=1e-12)
    assert odd.over_ball_mm < even.over_ball_mm


def pressed_in(groove: BallGroove, ball: float) -> float:
    """Size over balls on a groove that a ball of the arc's radius leaves: half a ball from its nearest point.

    A point of the groove stands one arc radius from the line of arc centres, across that line.
    """
    centres, per_rad = groove.centre_diameter_mm / 2, groove.lead_mm / (2 * math.pi)
    along = groove.arc_offset_mm * math.hypot(1.0, per_rad / centres)

    def point(turn: float, round_the_line: float) -> np.ndarray:
        outward = np.array([math.cos(turn), math.sin(turn), 0.0])
        forward = np.array([-centres * math.sin(turn), centres * math.cos(turn), per_rad])
        across = np.cross(forward / np.linalg.norm(forward), outward)
        middle = np.array([centres * math.cos(turn), centres * math.sin(turn), along + per_rad * turn])
        return middle + groove.arc_radius_mm * (
            -outward * math.cos(round_the_line) + across * math.sin(round_the_line)
        )

    def gap(centre: float) -> float:
        def distance(where) -> float:
            return float(np.linalg.norm(point(*where) - (centre, 0.0, 0.0)))

        grid = [(turn / 100, angle / 10) for turn in range(-5, 6) for angle in range(-12, 13)]
        start = min(grid, key=distance)
        exact = {"xatol": 1e-12, "fatol": 1e-15, "maxiter": 4000}
        return minimize(distance, start, method="Nelder-Mead", options=exact).fun - ball / 2

    low = centres - 1.2 * (groove.arc_radius_mm - ball / 2)
    return 2 * brentq(gap, low, centres, xtol=1e-10) + ball


@pytest.mark.parametrize(("lead", "ball"), [(5.0, 3.6), (10.0, 3.5), (40.0, 3.6)])
def test_a_ball_pressed_in_a_screw_groove_rests_where_the_lines_say(lead: float, ball: float) -> None:
    groove = BallGroove(2.0, 0.12, 31.0, lead, grooves=1)
    assert over_balls(groove, ball).over_ball_mm == pytest.approx(pressed_in(groove, ball), abs=1e-8)


GROOVES = st.builds(
    BallGroove,
    arc_radius_mm=st.floats(1.0, 4.0),
    arc_offset_mm=st.floats(0.0, 0.1),
    centre_diameter_mm=st.floats(15.0, 60.0),
    lead_mm=st.none() | st.floats(2.0, 40.0),
    grooves=st.integers(2, 7),
)


@given(GROOVES, st.floats(0.75, 0.88))
def test_there_and_back_and_larger_balls_stand_further_out(groove: BallGroove, share: float) -> None:
    ball = 2 * groove.arc_radius_mm * share
    found = over_balls(groove, ball)
    back = groove_from_over_balls(groove, found.over_ball_mm + 0.01, ball)
    assert over_balls(
        BallGroove(
            groove.arc_radius_mm,
            groove.arc_offset_mm,
            back.centre_diameter_mm,
            groove.lead_mm,
            groove.grooves,
        ),
        ball,
    ).over_ball_mm == pytest.approx(found.over_ball_mm + 0.01, abs=1e-9)
    assert back.centre_diameter_mm > groove.centre_diameter_mm
    assert over_balls(groove, 1.01 * ball).over_ball_mm > found.over_ball_mm


def test_wear_of_a_45_degree_contact_shows_2_83_times() -> None:
    """Derived for this project: 2/cos of the contact angle."""
    groove = BallGroove(2.0, 0.2 * math.sin(math.pi / 4), 31.0)
    assert wear_over_balls(over_balls(groove, 3.6), 1.0).change_um == pytest.approx(2.83, abs=5e-3)


def test_what_is_no_groove_is_refused() -> None:
    with pytest.raises(Refused) as caught:
        BallGroove(0.0, -1.0, -1.0, -5.0, 0)
    columns = [refusal.column for refusal in caught.value.refusals]
    assert columns == ["arc radius", "arc offset", "centre diameter", "lead", "grooves"]
    with pytest.raises(Refused, match=r"ride on the edges.*below 3\.760 mm"):
        over_balls(GOTHIC, 3.8)
    with pytest.raises(Refused, match="leaves no groove around the axis"):
        groove_from_over_balls(GOTHIC, 5.0, 3.6)
