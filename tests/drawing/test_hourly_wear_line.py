"""Below the operator's sizes: the wear line and its band, where the model has one."""

import altair
import pytest
from invented import history, layers, named, point

from spc.drawing import hourly_picture
from spc.drawing.theme import THEMES
from spc.shop import Interval90

BOTH = pytest.mark.parametrize("name", list(THEMES))


@BOTH
def test_the_line_breaks_where_other_dies_come_on(name: str) -> None:
    lined = tuple(
        point(n, die_set="D-07" if n < 4 else "D-08", wear_line=Interval90(44.5, 44.497, 44.503))
        for n in range(8)
    )
    spec = hourly_picture(history(lined), name)
    altair.Chart.from_dict(spec)
    rows = named(spec, "wear_line")["wear_line"]
    assert len(rows) == len(named(spec, "wear_band")["wear_band"]) == 8
    assert len({row["die"] for row in rows}) == 2


def test_no_line_in_an_older_record() -> None:
    names = {each.get("name") for each in layers(hourly_picture(history((point(0), point(1))), "light"))}
    assert not names & {"wear_line", "wear_band"}
