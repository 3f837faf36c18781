"""`spc limits` against published charts, half a unit of the last printed digit.

Piston rings, NIST gear diameters and the thirty single values: see tests/references/README.md. Primer viscosity:
Montgomery, Introduction to SQC, individuals example (from memory, reproduces the print).
"""

from pathlib import Path

import pytest
from terminal import GEARS, RINGS, THIRTY, Terminal

KEYS = [
    "chart",
    "n",
    "subgroups",
    "centre",
    "lower",
    "upper",
    "spread_centre",
    "spread_lower",
    "spread_upper",
    "sigma_within",
    "points",
    "signals",
]
VISCOSITY = "33.75 33.05 34.00 33.81 33.46 34.02 33.68 33.27 33.49 33.20 33.62 33.00 33.54 33.12 33.84"


def limits(spc: Terminal, chart: str, file: Path, *more: object) -> dict:
    said = spc("limits", "--chart", chart, "--readings", file, "--json", *more)
    assert (said.code, said.err) == (0, "")
    return said.json


def single_values(folder: Path) -> Path:
    """The thirty values alone, without the columns of what was computed from them."""
    file = folder / "thirty.csv"
    rows = THIRTY.read_text(encoding="utf-8").splitlines()
    file.write_text("\n".join(row.split(",")[0] for row in rows) + "\n", encoding="utf-8")
    return file


def computed_column(name: str) -> list[float]:
    header, *rows = (row.split(",") for row in THIRTY.read_text(encoding="utf-8").splitlines())
    return [float(row[header.index(name)]) for row in rows]


def test_piston_rings_give_the_published_chart(spc: Terminal) -> None:
    answer = limits(spc, "xbar_r", RINGS)
    assert list(answer) == KEYS
    assert (answer["chart"], answer["n"], answer["subgroups"]) == ("xbar_r", 5, 25)
    assert answer["centre"] == pytest.approx(74.001, abs=5e-4)
    assert answer["spread_centre"] == pytest.approx(0.023, abs=5e-4)
    assert answer["upper"] == pytest.approx(74.014, abs=6e-4)  # the book adds 0.577 times 0.023, rounded
    assert answer["lower"] == pytest.approx(73.988, abs=5e-4)
    assert answer["spread_upper"] == pytest.approx(0.049, abs=5e-4)
    assert answer["spread_lower"] == 0
    assert len(answer["points"]) == 25
    assert answer["points"][0] == pytest.approx(74.010, abs=5e-4)
    assert answer["signals"] == []


def test_piston_rings_by_standard_deviations(spc: Terminal) -> None:
    answer = limits(spc, "xbar_s", RINGS)
    assert list(answer) == KEYS
    assert answer["spread_centre"] == pytest.approx(0.0094, abs=5e-5)
    assert answer["spread_upper"] == pytest.approx(0.0196, abs=5e-5)
    assert answer["lower"] == pytest.approx(73.988, abs=5e-4)


def test_gear_diameters_have_the_published_mean_and_one_batch_out(spc: Terminal) -> None:
    answer = limits(spc, "xbar_s", GEARS)
    assert (answer["n"], answer["subgroups"]) == (10, 10)
    assert answer["centre"] == pytest.approx(0.9976400, abs=5e-8)
    table = spc("limits", "--chart", "xbar_r", "--readings", GEARS).out
    assert "1 of 10 subgroups stands out (no. 5)" in table  # the batch behind the published F = 2.2969


def test_medians_are_centred_on_their_mean(spc: Terminal) -> None:
    answer = limits(spc, "median_r", RINGS)
    assert list(answer) == KEYS
    assert answer["centre"] == pytest.approx(sum(answer["points"]) / 25, abs=1e-12)
    half = (answer["upper"] - answer["lower"]) / 2
    assert half == pytest.approx(
        0.691 * answer["spread_centre"], abs=5e-4 * 0.024
    )  # A4, ISO 7870-2, from memory


def test_primer_viscosity_as_individuals_without_a_header(spc: Terminal) -> None:
    file = spc.folder / "viscosity.csv"
    file.write_text(VISCOSITY.replace(" ", "\n"), encoding="utf-8")
    answer = limits(spc, "individuals", file)
    assert (answer["n"], answer["subgroups"], len(answer["points"])) == (1, 15, 15)
    printed = {"centre": 33.52, "spread_centre": 0.48, "upper": 34.80, "lower": 32.24, "spread_upper": 1.57}
    for name, value in printed.items():
        assert answer[name] == pytest.approx(value, abs=6e-3)  # the print divides by 1.128, not by 1.128379


def test_thirty_values_as_cusum(spc: Terminal) -> None:
    answer = limits(spc, "cusum", single_values(spc.folder), "--target", 10, "--sigma", 1)
    assert set(answer) == {*KEYS, "high", "low"}
    assert answer["high"] == pytest.approx(computed_column("cusum_high"), abs=5e-3)
    assert answer["low"] == pytest.approx(computed_column("cusum_low"), abs=5e-3)
    assert (answer["centre"], answer["upper"], answer["sigma_within"]) == (10, 5, 1)
    found = [(each["index"], each["kind"], each["of"]) for each in answer["signals"]]
    assert found == [(29, "beyond_limits", "location"), (30, "beyond_limits", "location")]  # the print: 29
    assert "since subgroup 23" in answer["signals"][0]["says"]  # seven points after the sum left 0


def test_thirty_values_as_ewma_with_exact_limits(spc: Terminal) -> None:
    file = single_values(spc.folder)
    answer = limits(spc, "ewma", file, "--target", 10, "--sigma", 1, "--weight", 0.1, "--width", 2.7)
    assert list(answer) == KEYS
    assert answer["points"] == pytest.approx(computed_column("ewma"), abs=5e-6)
    assert answer["lower"] == pytest.approx(computed_column("ewma_lower"), abs=5e-5)
    assert answer["upper"] == pytest.approx(computed_column("ewma_upper"), abs=5e-5)
    assert [each["index"] for each in answer["signals"]] == [29, 30]
    assert answer["spread_centre"] is None


def test_known_centre_and_sigma_need_no_spread_in_the_file(spc: Terminal) -> None:
    """Tea packing, ISO 8258:1991 (from memory): centre 100.6, σ 1.4, n 5: 98.7, 102.5 and 6.9 for the range."""
    file = spc.folder / "tea.csv"
    file.write_text("x1,x2,x3,x4,x5\n100.6,100.6,100.6,100.6,100.6\n", encoding="utf-8")
    answer = limits(spc, "xbar_r", file, "--target", 100.6, "--sigma", 1.4)
    assert answer["lower"] == pytest.approx(98.7, abs=0.05)
    assert answer["upper"] == pytest.approx(102.5, abs=0.05)
    assert answer["spread_upper"] == pytest.approx(6.9, abs=0.05)
    assert answer["subgroups"] == 1


def test_a_target_alone_moves_the_centre_and_keeps_the_width(spc: Terminal) -> None:
    plain, moved = limits(spc, "xbar_r", RINGS), limits(spc, "xbar_r", RINGS, "--target", 74.0)
    assert moved["centre"] == 74.0
    assert moved["upper"] - moved["lower"] == pytest.approx(plain["upper"] - plain["lower"], abs=1e-12)
    assert moved["points"] == plain["points"]


def test_run_rules_only_where_they_are_asked_for(spc: Terminal) -> None:
    file = spc.folder / "shifted.csv"
    file.write_text("\n".join(["9", "11"] * 8 + ["10.4", "10.6"] * 5), encoding="utf-8")
    assert limits(spc, "individuals", file)["signals"] == []
    found = limits(spc, "individuals", file, "--rules", "house")["signals"]
    assert [(each["index"], each["kind"], each["of"]) for each in found] == [
        (24, "run_rule", "location"),
        (25, "run_rule", "location"),
        (26, "run_rule", "location"),
    ]


def test_unequal_subgroups_give_lists(spc: Terminal) -> None:
    file = spc.folder / "unequal.csv"
    file.write_text("x1,x2,x3\n10.1,10.2,9.9\n10.0,9.8,\n10.2,10.1,10.0\n", encoding="utf-8")
    answer = limits(spc, "xbar_r", file)
    assert answer["n"] == [3, 2, 3]
    assert len(answer["lower"]) == len(answer["spread_upper"]) == 3


def test_one_of_several_characteristics_is_picked_and_only_hourly_checks_count(spc: Terminal) -> None:
    file = spc.folder / "readings.csv"
    rows = ["time,machine,part,characteristic,piece,value,purpose"]
    for hour in range(6, 10):
        for name, size in (("over_pin", 31.25), ("runout", 0.01)):
            rows += [
                f"2026-03-02T{hour:02}:00,R1,P-31,{name},{piece},{size + (piece + hour) % 3 / 1000:.3f},hourly"
                for piece in (1, 2)
            ]
    rows.append("2026-03-02T11:00,R1,P-31,over_pin,1,31.999,setup")
    file.write_text("\n".join(rows), encoding="utf-8")
    unpicked = spc("limits", "--chart", "xbar_r", "--readings", file, "--json")
    assert (unpicked.code, unpicked.out) == (1, "")
    assert "over_pin, runout. Pick one with --characteristic." in unpicked.err
    said = spc("limits", "--chart", "xbar_r", "--readings", file, "--characteristic", "over_pin", "--json")
    assert said.code == 0
    assert said.json["subgroups"] == 4
    assert "Left out: 1 row of checks that were not hourly." in said.err


def test_the_table_ends_in_one_sentence_of_meaning(spc: Terminal) -> None:
    said = spc("limits", "--chart", "xbar_r", "--readings", RINGS)
    assert said.code == 0
    *_, last = said.out.splitlines()
    assert last == "None of the 25 subgroups stands out: chance alone explains what is seen."
    assert "73.98777 … 74.01458" in said.out


@pytest.mark.parametrize("chart", ["xbar_r", "xbar_s", "median_r", "ewma", "cusum"])
def test_every_chart_has_a_table(spc: Terminal, chart: str) -> None:
    said = spc("limits", "--chart", chart, "--readings", RINGS)
    assert (said.code, said.err) == (0, "")
    assert len(said.out.splitlines()) > 30
    assert "nan" not in said.out.lower()


@pytest.mark.parametrize(
    ("content", "chart", "says"),
    [
        ("x1,x2\n10,10\n10,10\n10,10\n", "xbar_r", "no spread within a check"),
        ("x1,x2\n10,11\n", "xbar_r", "too few subgroups"),
        ("x1,x2\n10,11\n11,12\n", "individuals", "takes single pieces"),
        ("10\n11\n12\n", "xbar_r", "too few pieces"),
        ("x1,x2\nten,eleven\n", "xbar_r", "a number holds no letters"),
        ("", "xbar_r", "the file is empty"),
    ],
)
def test_what_cannot_be_charted_is_said_in_words(spc: Terminal, content: str, chart: str, says: str) -> None:
    file = spc.folder / "odd.csv"
    file.write_text(content, encoding="utf-8")
    said = spc("limits", "--chart", chart, "--readings", file, "--json")
    assert (said.code, said.out) == (1, "")
    assert says in said.err


def test_cells_that_cannot_be_read_are_named_and_the_rest_is_charted(spc: Terminal) -> None:
    file = spc.folder / "odd.csv"
    file.write_text(
        RINGS.read_text(encoding="utf-8") + "74.O01,74.002,74.001,74.000,74.003\n", encoding="utf-8"
    )
    said = spc("limits", "--chart", "xbar_r", "--readings", file, "--json")
    assert said.code == 2
    assert said.json["subgroups"] == 26
    assert "row 27, x1: a number holds no letters (got '74.O01')" in said.err
