"""What the review page says about capability: the demand answered, how sure, over time, distribution, what lies out."""

import re
from collections.abc import Callable

import numpy as np
import pytest
from small_shop import PLAN, twenty_checks, words
from streamlit.testing.v1 import AppTest

from spc.station import Station

RunPage = Callable[[str], AppTest]
DEMAND = PLAN.replace("penetration_gain = 0.80", "penetration_gain = 0.80\nminimum_cpk = {}")


@pytest.mark.parametrize(
    ("minimum", "answer", "because"),
    [
        ("1.33", "shown", "Even the lower end reaches 1.33."),
        ("3.60", "too few pieces to tell", "The value reaches 3.60, its lower end does not."),
        ("4.20", "not shown", "The value itself stays below 4.20; more pieces will not help."),
    ],
)
def test_the_demand_is_answered_first_and_with_its_reason(
    shop: Station, run_page: RunPage, minimum: str, answer: str, because: str
) -> None:
    shop.take_plan(DEMAND.format(minimum))
    twenty_checks(shop)
    says = words(run_page("review:review_page"))
    assert f"The plan asks for Ppk {minimum} or more: **{answer}.** Ppk is 3.86 and lies, 95 % sure," in says
    assert f"(115 pieces). {because} Ppk answers, because the checks did not stand still" in says


def test_the_sentences_below_the_indices_say_how_far_to_trust_them(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    says = words(run_page("review:review_page"))
    facts = dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", says))
    assert list(facts) == ["Over time", "How sure", "Distribution", "Outside the tolerance"]
    assert "The 23 checks differ more than their pieces explain" in facts["Over time"]
    assert "promise nothing for the next pieces" in facts["Over time"]
    assert f"115 pieces count as about {_independent(shop):.0f} independent ones." in facts["How sure"]
    assert facts["Distribution"].startswith(
        "Normal, the usual one for a size over pins. But 115 pieces speak"
    )
    assert facts["Outside the tolerance"] == "Under 1 ppm, cannot be told from 115 pieces."


def _independent(shop: Station) -> float:
    """Pieces that would know the mean as well: their variance over that of the mean of 23 check means."""
    points = shop.review("P-31", "R1").characteristics[0].history.points
    checks = np.array([point.values for point in points])
    assert checks.shape == (23, 5)
    between, within = np.var(checks.mean(1), ddof=1), np.mean(np.var(checks, axis=1, ddof=1))
    return float((between + 0.8 * within) / (between / 23))


def test_with_too_few_pieces_no_index_stands_and_the_demand_stays_open(
    shop: Station, run_page: RunPage
) -> None:
    shop.take_plan(DEMAND.format("1.33"))
    says = words(run_page("review:review_page"))
    assert "The plan asks for" in says
    assert "**too few pieces to tell.**" in says
    assert "No index yet: 15 hourly pieces from 3 checks. It takes 25 pieces from 10 checks." in says
    assert "<dt>" not in says
