"""A plan that changes while a die set runs: the history before it stays, nothing falls over."""

import json
from datetime import timedelta

import pytest
from shaft import PLAN, START, at, check, open_shop, running

from spc.station import verdict_line

BOW = '[[characteristic]]\nname = "bow"' + PLAN.split('name = "bow"')[1].split("[[characteristic]]")[0]


def changed(live, text: str, hours: float) -> None:
    live.take_plan(text, at=START + timedelta(hours=hours))


def test_a_characteristic_taken_out_of_the_plan_is_forgotten_quietly():
    """Section 3 lets a plan change; section 5 wants a line for every check behind it."""
    live = open_shop()
    running(live, 3)
    live.check_in(check(4, counter=1200, values={"bow": ["0.020", "0.022"]}))
    changed(live, PLAN.replace(BOW, ""), 4.5)
    line = verdict_line(live.check_in(check(5, counter=1500)))

    assert line["verdict"] == "run"
    assert line["die_life"]["limited_by"] == "over_pin"


@pytest.mark.parametrize(
    "new",
    [
        PLAN.replace(
            "nominal = 31.250\nlower = 31.232\nupper = 31.268",
            "nominal = 31.260\nlower = 31.242\nupper = 31.278",
        ),
        PLAN.replace('kind = "straightness"', 'kind = "runout"'),
        PLAN.replace('name = "bow"', 'name = "bend"'),
        PLAN.replace("correction_travel = 0.060", ""),
    ],
)
def test_any_change_of_the_plan_judges_on(new):
    live = open_shop()
    running(live, 3)
    live.check_in(check(4, counter=1200, values={"bow": ["0.020", "0.022"]}))
    changed(live, new, 4.5)
    other = {"bend": ["0.020", "0.021"]} if '"bend"' in new else {"bow": ["0.020", "0.021"]}
    line = verdict_line(live.check_in(check(5, counter=1500, values=other)))

    json.dumps(line, allow_nan=False)
    assert line["time"] == at(5)
