"""The hour that the README walks through is what the station says."""

import re
from pathlib import Path

from feed import DEMO, station

from spc.intake import read_history, read_plans

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
SIZES = ["32.8848", "32.8863", "32.8828", "32.8853", "32.8838"]


def test_the_readmes_hour_happens_as_told():
    live = station()
    plans = read_plans([DEMO])
    live.take_history(plans, read_history(plans, DEMO / "readings.csv", DEMO / "events.csv"))
    view = live.operator_view("SW-32", "R1")
    check = {"machine": "R1", "part": "SW-32", "counter": 916, "values": {"look": ["ok"]}}
    check["values"] |= {"over_wire": SIZES, "straightness": ["0.012", "0.009"]}
    verdict = live.check_in({"time": "2026-03-28T06:08", **check})
    live.log(
        {
            "time": "2026-03-28T06:12",
            "machine": "R1",
            "part": "SW-32",
            "event": "penetration",
            "value": "12.438",
        }
    )
    moved = {"over_wire": ["32.8779", "32.8786"]}
    after = live.check_in(
        {"time": "2026-03-28T06:15", **check, "counter": 930, "purpose": "after_move", "values": moved}
    )

    assert view.die_set == "D-323"
    assert f"{view.counter} pieces old" in README
    assert f"slide stands at {view.shown_setting_mm} mm" in README
    assert ", ".join(SIZES) in README
    assert verdict.verdict == "correct"
    assert f"*{verdict.next_action}*" in README
    growth = verdict.die_life.wear_um_per_1000.estimate
    assert f"grows about {growth:.1f} µm in 1,000 pieces" in README
    assert f"about {round(verdict.die_life.pieces_left.p50, -2):,} pieces left" in README
    assert after.verdict == "run"


def test_the_readmes_python_runs(tmp_path, monkeypatch, capsys):
    block = re.search(r"```python\n(.*?)```", README, flags=re.DOTALL).group(1)
    monkeypatch.chdir(DEMO.parent)
    exec(compile(block.replace("shop.sqlite", str(tmp_path / "shop.sqlite")), "README.md", "exec"), {})

    assert capsys.readouterr().out.split()[0] in ("run", "watch", "correct", "hold")
