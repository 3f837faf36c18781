"""`spc size travel` against traces whose answers are exact fractions, calculated by hand (L1 to L5)."""

import math

import pytest
from terminal import Said, Terminal

L1 = [(100 * step, deviation) for step, deviation in enumerate([0, 2, 5, 4, 8, 9, 14])]
L2 = [(x, 0.01 * x + 6 * (1 - ((x - 300) / 300) ** 2)) for x in range(0, 601, 25)]


def trace(spc: Terminal, rows, name: str = "trace.csv", header: str = "position_mm,deviation_um"):
    file = spc.folder / name
    file.write_text("\n".join([header, *(f"{x},{value}" for x, value in rows)]) + "\n", encoding="utf-8")
    return file


def judged(spc: Terminal, rows, *more: object, standard: str = "jis") -> Said:
    return spc("size", "travel", "--trace", trace(spc, rows), "--standard", standard, *more)


def test_L1_the_answer_and_its_keys(spc: Terminal) -> None:
    answer = judged(spc, L1, "--json").json
    promised = [
        "mean_deviation_um",
        "variation_um",
        "variation_300_um",
        "variation_2pi_um",
        "grade",
        "grades",
    ]
    assert list(answer)[:6] == promised
    assert answer["mean_deviation_um"] == pytest.approx(177 / 14, abs=1e-9)
    assert answer["variation_um"] == pytest.approx(103 / 28, abs=1e-9)
    assert answer["variation_300_um"] == pytest.approx(103 / 28, abs=1e-9)
    assert answer["variation_2pi_um"] is None
    assert answer["grade"] == "C3"
    assert answer["grades"]["C1"] == "not reached"
    assert answer["prevents"]["C1"] == ["mean travel deviation 12.64 µm, allowed ±9 µm"]


@pytest.mark.parametrize(
    ("rows", "mean", "whole", "in_300"),
    [
        ([(x, -0.01 * x + 5 * (x > 400)) for x in range(0, 901, 50)], -36 / 19, 4.605263, 4.605263),
        (
            list(zip(range(0, 901, 100), [0, 1, 4, 6, 5, 3, 1, 0, 2, 5], strict=True)),
            9 / 11,
            70 / 11,
            63 / 11,
        ),
    ],
    ids=["L3", "L5"],
)
def test_L3_L5_a_step_and_a_wave(spc: Terminal, rows, mean, whole, in_300) -> None:
    answer = judged(spc, rows, "--json").json
    assert answer["mean_deviation_um"] == pytest.approx(mean, abs=1e-9)
    assert answer["variation_um"] == pytest.approx(whole, abs=5e-7)
    assert answer["variation_300_um"] == pytest.approx(in_300, abs=5e-7)


def test_the_standard_decides_what_can_be_told(spc: Terminal) -> None:
    """L2: everything is 6 µm. The ISO tables at hand have no variation for P0, P2 and P4."""
    jis, iso = (judged(spc, L2, "--json", standard=one).json for one in ("jis", "iso"))
    for key in ("mean_deviation_um", "variation_um", "variation_300_um"):
        assert jis[key] == iso[key] == pytest.approx(6.0, abs=1e-9)
    assert jis["grade"] == "C3"
    assert iso["grade"] == "P1"
    assert list(iso["grades"]) == ["P0", "P1", "P2", "P3", "P4", "P5", "T7", "T10"]
    assert {name for name, told in iso["grades"].items() if told == "cannot be told"} == {"P0", "P2", "P4"}
    assert iso["tolerances"]["P3"]["variation_300_um"] == {"value": 12.0, "known": "read"}
    assert iso["tolerances"]["P2"]["variation_um"] == {"value": None, "known": "not known"}


def test_a_lead_judges_every_turn(spc: Terminal) -> None:
    rows = [(x * 2.5, 0.02 * x * 2.5 + 4 * math.sin(math.pi * x / 2)) for x in range(241)]
    answer = judged(spc, rows, "--lead", 10, "--json").json
    assert answer["mean_deviation_um"] == pytest.approx(11.901238, abs=5e-7)
    assert answer["variation_um"] == pytest.approx(8.096293, abs=5e-7)
    assert answer["variation_2pi_um"] == pytest.approx(8.000823, abs=5e-7)
    assert answer["variation_300_um"] == pytest.approx(8.048558, abs=5e-7)
    assert answer["grade"] == "C7"
    assert answer["prevents"]["C5"] == ["variation in a turn 8.001 µm, allowed 8 µm"]


def test_a_lead_that_changes_on_purpose(spc: Terminal) -> None:
    """From 10 mm to 12 mm over 200 mm; a trace that follows the table has nothing left to judge."""
    table = trace(spc, [(0, 10), (200, 12)], "lead.csv", "position_mm,lead_mm")

    def meant_um(x: float) -> float:
        return 1000 * (x - 10 * 100 * math.log(1 + x / 1000))  # ∫ dx / (10 + x/100) = 100 ln(1 + x/1000)

    rows = [(x, round(meant_um(x), 6)) for x in range(0, 201, 5)]
    answer = judged(spc, rows, "--lead", 10, "--nominal", table, "--json").json
    assert answer["variation_um"] < 1e-5
    assert abs(answer["mean_deviation_um"]) < 1e-5
    assert answer["grade"] == "C0"
    assert judged(spc, rows, "--lead", 10, "--json").json["grade"] is None


def test_a_table_of_deviations_is_taken_off(spc: Terminal) -> None:
    """L1 with its own line meant: the line is gone, the variation is what it was."""
    table = trace(spc, [(0, -9 / 28), (600, 59 / 2800 * 600 - 9 / 28)], "meant.csv")
    answer = judged(spc, L1, "--nominal", table, "--json").json
    assert answer["mean_deviation_um"] == pytest.approx(0.0, abs=1e-9)
    assert answer["variation_um"] == pytest.approx(103 / 28, abs=1e-9)
    missing = judged(spc, L1, "--nominal", trace(spc, [(0, 1)], "x.csv", "position_mm,depth_mm"))
    assert (missing.code, missing.out) == (1, "")
    assert "x.csv" in missing.err


def test_said_in_words(spc: Terminal) -> None:
    said = judged(spc, L1)
    assert said.code == 0
    assert "mean deviation  +12.64 µm over 600 mm" in said.out
    assert "grade           C3 by JIS B 1192" in said.out
    assert "C1  not reached: mean travel deviation 12.64 µm, allowed ±9 µm" in said.out
    assert "Note: variation in a turn not judged: no lead given." in said.out


def test_few_readings_are_said(spc: Terminal) -> None:
    rows = [(x, 0.0 if x % 20 else 0.5) for x in range(0, 601, 10)]
    answer = judged(spc, rows, "--lead", 10, "--json").json
    assert answer["cautions"] == ["fewer than four readings in a turn: its variation is shown too small"]


@pytest.mark.parametrize(
    ("rows", "options", "says"),
    [
        ([(0, 0)], [], "a trace needs two points or more"),
        ([(0, 0), (10, 1), (10, 2)], [], "repeats after point 2"),
        ([(0, 0), (20, 1), (10, 2)], [], "goes back after point 2"),
        ([(0, 0), (301, 1)], [], "wider than the 300 mm"),
        (L1, ["--lead", 10], "gap wider than a turn"),
        (L1, ["--lead", 0], "a lead moves on with every turn"),
        ([(0, 0), (10, "x")], [], "row 3, deviation_um"),
    ],
)
def test_what_is_no_trace_is_refused(spc: Terminal, rows, options, says: str) -> None:
    said = judged(spc, rows, *options, "--json")
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert "trace.csv" in said.err


def test_a_table_that_is_too_short_or_none_is_refused(spc: Terminal) -> None:
    short = trace(spc, [(0, 10), (100, 10)], "lead.csv", "position_mm,lead_mm")
    said = judged(spc, [(x, 0) for x in range(0, 201, 5)], "--lead", 10, "--nominal", short)
    assert said.code == 1
    assert "doesn't reach this far" in said.err
    standing = trace(spc, [(0, 10), (100, 0)], "lead.csv", "position_mm,lead_mm")
    said = judged(spc, [(0, 0), (5, 0)], "--lead", 10, "--nominal", standing)
    assert said.code == 1
    assert "lead.csv, lead: row 2 of the table" in said.err


def test_wrong_usage(spc: Terminal) -> None:
    assert judged(spc, L1, standard="din").code == 64
    table = trace(spc, [(0, 10), (600, 12)], "lead.csv", "position_mm,lead_mm")
    assert judged(spc, L1, "--nominal", table).code == 64
