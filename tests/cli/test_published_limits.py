"""`spc limits --json` key by key against published charts, at half a unit of the last digit that stands there.

*Print* is what the book says, *computed* what a second program computed from the same data (Python, mpmath); where
the print was worked out from rounded figures that is said beside it. Sources of the data: `published_files.py` and
tests/references/README.md.
"""

import json
from pathlib import Path

import pytest
from published_files import LAYOUTS, file_of, rings, thirty, written_as
from terminal import RINGS, Terminal

NOT_FOR_ONE = ("long", "wide with names", "tabs, no header", "semicolons, no header")
"""Layouts that one column does not have: nothing in it separates, so 74,030 alone may be thousands and is refused."""
SHEWHART = ("xbar_r", "xbar_s", "median_r", "individuals")


def limits(spc: Terminal, chart: str, file: Path, *more: object) -> dict:
    said = spc("limits", "--chart", chart, "--readings", file, "--json", *more)
    assert "NaN" not in said.out
    assert "Infinity" not in said.out
    return said.json


def holds(found: float, printed: str, slack: float = 1.0) -> None:
    """Half a unit of the last digit printed, and a little for the digit itself."""
    decimals = len(printed.partition(".")[2])
    assert found == pytest.approx(float(printed), abs=0.5000001 * 10.0**-decimals * slack), printed


CASES = [
    # computed; all round to the print: 74.001, 0.023, 0.0094, 74.014 and 73.988, 0.049, 0.0196
    ("rings", "xbar_r", "centre", "74.001176"),
    ("rings", "xbar_r", "spread_centre", "0.0232400"),
    ("rings", "xbar_r", "sigma_within", "0.0099917"),
    ("rings", "xbar_r", "spread_lower", "0.0"),
    ("rings", "xbar_s", "spread_centre", "0.0093995"),
    ("rings", "xbar_s", "sigma_within", "0.0099996"),
    ("rings", "xbar_s", "spread_upper", "0.019636"),
    ("rings", "median_r", "spread_centre", "0.0232400"),
    # NIST section 1.3.5.4, print
    ("gears", "xbar_s", "centre", "0.9976400"),
    ("viscosity", "individuals", "centre", "33.523333"),  # computed; print 33.52
    ("viscosity", "individuals", "spread_centre", "0.480714"),  # print 0.48
    ("viscosity", "individuals", "sigma_within", "0.426022"),
    ("chemical", "individuals", "centre", "99.095000"),  # print 99.1
    ("chemical", "individuals", "spread_centre", "2.589474"),  # print 2.59
    ("chemical", "individuals", "sigma_within", "2.294861"),
    ("moisture", "individuals", "centre", "3.450000"),  # print 3.45
    ("moisture", "individuals", "spread_centre", "0.377778"),  # print 0.38
    ("moisture", "individuals", "sigma_within", "0.334797"),
    ("flow", "individuals", "centre", "50.81"),  # print
    ("flow", "individuals", "spread_centre", "1.8778"),  # print
    (
        "flow",
        "individuals",
        "sigma_within",
        "1.66414",
    ),  # 1.8777778/1.1283792 = 1.664137: a page with 1.664140 slips
    ("mavro", "individuals", "centre", "2.001856"),  # certified, exact
]


@pytest.mark.parametrize(("data", "chart", "key", "printed"), CASES)
def test_a_figure_of_the_reference_page(spc: Terminal, data: str, chart: str, key: str, printed: str) -> None:
    holds(limits(spc, chart, file_of(spc.folder, data))[key], printed)


# Limits worked out with table factors of three decimals (A2 0.577, D4 2.114) or with d2 = 1.128 and D4 = 3.267: the
# print divides by the rounded factor, so it stands off by up to (1 - 1.128/1.128379) of the half width besides.
ROUNDED = [
    ("rings", "xbar_r", "upper", "74.014586"),
    ("rings", "xbar_r", "lower", "73.987767"),
    ("rings", "xbar_r", "spread_upper", "0.049129"),
    ("rings", "xbar_s", "upper", "74.014589"),
    ("rings", "xbar_s", "lower", "73.987763"),
    ("viscosity", "individuals", "upper", "34.8018"),
    ("viscosity", "individuals", "lower", "32.2448"),
    ("viscosity", "individuals", "spread_upper", "1.5705"),
    ("chemical", "individuals", "upper", "105.9819"),
    ("chemical", "individuals", "lower", "92.2081"),
    ("chemical", "individuals", "spread_upper", "8.4598"),
    ("moisture", "individuals", "upper", "4.4547"),
    ("moisture", "individuals", "lower", "2.4453"),
    ("moisture", "individuals", "spread_upper", "1.2342"),
    ("flow", "individuals", "upper", "55.8041"),
    ("flow", "individuals", "lower", "45.8159"),
    ("flow", "individuals", "spread_upper", "6.1347"),
]


@pytest.mark.parametrize(("data", "chart", "key", "printed"), ROUNDED)
def test_a_limit_worked_out_with_rounded_factors(
    spc: Terminal, data: str, chart: str, key: str, printed: str
) -> None:
    answer = limits(spc, chart, file_of(spc.folder, data))
    factor = (
        3.4e-4 if chart == "individuals" else 6e-4
    )  # 1.128 for 1.128379; 0.577, 2.114 for 0.57682, 2.11450
    width = answer["spread_upper"] if key == "spread_upper" else answer["upper"] - answer["centre"]
    digit = 0.5000001 * 10.0 ** -len(printed.partition(".")[2])
    assert answer[key] == pytest.approx(float(printed), abs=digit + factor * width)


@pytest.mark.parametrize("data", ["rings", "viscosity", "chemical", "moisture", "flow"])
def test_the_books_find_no_signal(spc: Terminal, data: str) -> None:
    chart = "xbar_r" if data == "rings" else "individuals"
    assert limits(spc, chart, file_of(spc.folder, data))["signals"] == []


def test_neighbours_that_resemble_each_other_make_limits_too_narrow(spc: Terminal) -> None:
    """Mavro: lag-1 autocorrelation 0.938 (certified), so single values leave the limits in droves."""
    assert len(limits(spc, "individuals", file_of(spc.folder, "mavro"))["signals"]) > 10


def test_flow_rate_smoothed(spc: Terminal) -> None:
    """NIST section 6.3.2.4: start 50, s 2.0539, weight 0.3 (opened); limits there are those of the end."""
    asked = ("--target", 50, "--sigma", 2.0539, "--weight", 0.3)
    answer = limits(spc, "ewma", file_of(spc.folder, "ewma"), *asked)
    printed = (
        "50.6000 49.5200 50.5640 50.1848 50.1594 49.2116 49.7481 49.8537 50.2576 50.3303 50.1112 49.3578 49.5205 "
        "50.0543 49.3780 49.9246 50.7272 51.2291 51.9403 51.9882"
    )
    for found, value in zip(answer["points"], printed.split(), strict=True):
        holds(found, value)
    assert answer["upper"][-1] == pytest.approx(
        52.588432, abs=3e-6
    )  # limit for ever; 0.7^40 short of it here
    assert answer["lower"][-1] == pytest.approx(47.411568, abs=3e-6)
    assert answer["signals"] == []


def test_thirty_values_line_by_line(spc: Terminal) -> None:
    """Montgomery, SQC, Tables 9.2 and 9.10."""
    file = written_as(spc.folder / "thirty.csv", "header", [[f"{row['x']:.2f}"] for row in thirty()])
    ewma = limits(spc, "ewma", file, "--target", 10, "--sigma", 1, "--weight", 0.1, "--width", 2.7)
    cusum = limits(spc, "cusum", file, "--target", 10, "--sigma", 1)
    for index, row in enumerate(thirty()):
        assert ewma["points"][index] == pytest.approx(row["ewma"], abs=5.1e-6)
        assert ewma["lower"][index] == pytest.approx(row["ewma_lower"], abs=5.1e-5)
        assert ewma["upper"][index] == pytest.approx(row["ewma_upper"], abs=5.1e-5)
        assert cusum["high"][index] == pytest.approx(row["cusum_high"], abs=5.1e-3)
        assert cusum["low"][index] == pytest.approx(row["cusum_low"], abs=5.1e-3)
        assert min(cusum["high"][index], cusum["low"][index]) >= 0.0


def test_chemical_values_added_up(spc: Terminal) -> None:
    """Montgomery & Runger, Table 16-8 (computed): target 99, σ 2, K 0.5, H 5: no signal."""
    asked = ("--target", 99, "--sigma", 2)
    answer = limits(spc, "cusum", file_of(spc.folder, "chemical"), *asked)
    high = "2.0 0 0 0 2.0 0.5 0 0 0 0 1.3 0 1.1 0 0 0 0.3 1.7 0 1.0"
    low = "0 3.2 2.9 2.5 0 0 0 0.3 0 0 0 0 0 0 1.0 2.3 0 0 0.8 0"
    assert answer["high"] == pytest.approx([float(each) for each in high.split()], abs=0.05)
    assert answer["low"] == pytest.approx([float(each) for each in low.split()], abs=0.05)
    assert (answer["upper"], answer["signals"]) == (10.0, [])


def test_sums_of_means_are_in_standard_deviations_of_the_mean(spc: Terminal) -> None:
    """Contract, section 7: K and H in σ of the plotted point, `high` and `low` in the data's unit."""
    answer = limits(spc, "cusum", RINGS, "--target", 74.0, "--sigma", 0.01, "--slack", 1, "--decision", 4)
    assert answer["upper"] == pytest.approx(4 * 0.01 / 5**0.5, rel=1e-12)
    expected, slack = 0.0, 0.01 / 5**0.5
    for point, high in zip(answer["points"], answer["high"], strict=True):
        expected = max(0.0, expected + point - 74.0 - slack)
        assert high == pytest.approx(expected, abs=1e-12)


def test_what_is_left_unsaid(spc: Terminal) -> None:
    """EWMA starts at the mean with 0.2 and 3, the sum with 0.5 and 5, and no run rule reads a chart unasked."""
    ewma = limits(spc, "ewma", RINGS)
    said = limits(spc, "ewma", RINGS, "--weight", 0.2, "--width", 3, "--target", repr(ewma["centre"]))
    assert (said["points"], said["lower"], said["upper"]) == (ewma["points"], ewma["lower"], ewma["upper"])
    first = 0.2 * 74.0102 + 0.8 * 74.001176  # mean of the first subgroup (print 74.010) and grand mean
    assert ewma["points"][0] == pytest.approx(first, abs=1e-9)
    half = 3 * 0.0099917 / 5**0.5 * (0.2 / 1.8 * (1 - 0.8**2)) ** 0.5
    assert ewma["upper"][0] - ewma["centre"] == pytest.approx(half, rel=1e-5)
    assert limits(spc, "cusum", RINGS) == limits(spc, "cusum", RINGS, "--slack", 0.5, "--decision", 5)
    assert limits(spc, "xbar_r", RINGS) == limits(spc, "xbar_r", RINGS, "--rules", "none")


@pytest.mark.parametrize("chart", [*SHEWHART, "ewma", "cusum"])
def test_names_and_shapes_of_the_answer(spc: Terminal, chart: str) -> None:
    file = file_of(spc.folder, "viscosity") if chart == "individuals" else RINGS
    answer = limits(spc, chart, file)
    assert isinstance(answer["n"], int)
    assert isinstance(answer["subgroups"], int)
    assert len(answer["points"]) == answer["subgroups"]
    lists = {"ewma": {"lower", "upper"}, "cusum": {"high", "low"}}.get(chart, set())
    for name in ("centre", "lower", "upper", "high", "low"):
        if name in lists:
            assert len(answer[name]) == answer["subgroups"]
        elif name in answer and answer[name] is not None:
            assert isinstance(answer[name], float)
    spread = [answer[f"spread_{name}"] for name in ("centre", "lower", "upper")]
    assert all(isinstance(each, float) for each in spread) == (chart in SHEWHART)
    assert isinstance(answer["sigma_within"], float)


@pytest.mark.parametrize("chart", ["xbar_r", "xbar_s", "median_r"])
def test_unequal_subgroups_give_lists_of_n_and_of_limits(spc: Terminal, chart: str) -> None:
    file = spc.folder / "unequal.csv"
    file.write_text(RINGS.read_text(encoding="utf-8") + "74.001,74.003,73.999,,\n", encoding="utf-8")
    answer = limits(spc, chart, file)
    assert answer["n"] == [5] * 25 + [3]
    for name in ("lower", "upper", "spread_centre", "spread_lower", "spread_upper"):
        assert len(answer[name]) == 26
    assert answer["upper"][25] > answer["upper"][0]  # three pieces know less than five


@pytest.mark.parametrize("rules", ["none", "house", "we1956", "nelson1984", "iso7870"])
def test_signals_name_index_kind_of_and_words(spc: Terminal, rules: str) -> None:
    file = spc.folder / "late.csv"
    file.write_text("\n".join(["10", "11", "9", "10.5", "9.5"] * 6 + ["10.6"] * 9 + ["30"]), encoding="utf-8")
    signals = limits(spc, "individuals", file, "--rules", rules)["signals"]
    for each in signals:
        assert list(each) == ["index", "kind", "of", "says"]
        assert each["kind"] in ("beyond_limits", "run_rule")
        assert each["of"] in ("location", "spread")
        assert any(letter.isdigit() for letter in each["says"])
    assert {(40, "location"), (40, "spread")} <= {(each["index"], each["of"]) for each in signals}
    assert any(each["kind"] == "run_rule" for each in signals) == (rules != "none")


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_gives_one_answer(spc: Terminal, layout: str) -> None:
    file = written_as(spc.folder / "rings.csv", layout, rings())
    said = spc("limits", "--chart", "xbar_r", "--readings", file, "--json")
    assert (said.code, said.err) == (0, "")
    assert said.json == limits(spc, "xbar_r", RINGS)


@pytest.mark.parametrize("layout", [each for each in LAYOUTS if each not in NOT_FOR_ONE])
def test_every_layout_takes_one_column(spc: Terminal, layout: str) -> None:
    rows = [[row[0]] for row in rings()]
    said = spc(
        "limits",
        "--chart",
        "individuals",
        "--readings",
        written_as(spc.folder / "a.csv", layout, rows),
        "--json",
    )
    assert (said.code, said.err) == (0, "")
    assert said.json["points"] == [float(row[0]) for row in rows]


@pytest.mark.parametrize("chart", ["xbar_r", "xbar_s", "ewma"])
def test_a_chart_moves_and_grows_with_its_readings(spc: Terminal, chart: str) -> None:
    file = spc.folder / "moved.csv"
    rows = [[repr(2.0 * float(cell) - 140.0) for cell in row] for row in rings()]
    plain, moved = limits(spc, chart, RINGS), limits(spc, chart, written_as(file, "header", rows))
    for name in ("centre", "upper", "lower", "points"):
        one, two = (json.loads(f"[{json.dumps(each[name])}]")[0] for each in (plain, moved))
        one, two = (each if isinstance(each, list) else [each] for each in (one, two))
        assert two == pytest.approx([2.0 * each - 140.0 for each in one], abs=1e-10)
