"""`spc capability`: piston rings (Montgomery) and NIST gear diameters; see tests/references/README.md.

Cp = 1.68 of the rings is printed with σ rounded to 0.0099 (from memory); Anderson-Darling of both files computed
by a second program; standard deviations by the standard library, in exact decimals.
"""

import csv
from decimal import Decimal
from pathlib import Path
from statistics import fmean, stdev, variance

import pytest
from terminal import GEARS, RINGS, Terminal

KEYS = [
    "n",
    "subgroups",
    "mean",
    "sigma_within",
    "sigma_overall",
    "model",
    "quantiles",
    "cp",
    "cpk",
    "pp",
    "ppk",
    "cpm",
    "fallout_ppm",
    "normality",
    "honest",
    "warning",
    "why",
    "fit",
    "fallout_interval_ppm",
    "over_time",
    "order",
    "honest_first",
    "words",
    "requirement",
]
"""Those of the contract first, then what stands beside them."""
INDICES = ("cp", "cpk", "pp", "ppk", "cpm")


def capability(spc: Terminal, *more: object, file: object = RINGS) -> dict:
    said = spc("capability", "--readings", file, "--json", *more)
    assert (said.code, said.err) == (0, "")
    return said.json


def exact_rows(file: Path) -> list[list[Decimal]]:
    rows = csv.reader(file.read_text(encoding="utf-8").splitlines())
    return [[Decimal(cell) for cell in row] for row in rows if row[0] != "x1"]


def test_piston_rings(spc: Terminal) -> None:
    answer = capability(spc, "--lower", 73.95, "--upper", 74.05)
    assert list(answer) == KEYS
    assert (answer["n"], answer["subgroups"], answer["model"]) == (125, 25, "normal")
    assert answer["mean"] == pytest.approx(74.001176, abs=5e-7)
    assert answer["sigma_within"] == pytest.approx(0.0099917, abs=5e-8)
    every = [value for row in exact_rows(RINGS) for value in row]
    assert answer["sigma_overall"] == pytest.approx(float(stdev(every)), rel=1e-12)
    assert answer["cp"]["estimate"] == pytest.approx(1.68 * 0.0099 / 0.0099917, abs=5e-3)
    assert answer["normality"]["anderson_darling"] == pytest.approx(0.193332, abs=5e-7)
    assert answer["normality"]["p"] == pytest.approx(0.892229, abs=5e-7)
    for name in INDICES:
        assert list(answer[name]) == ["estimate", "low", "high"]
        assert answer[name]["low"] < answer[name]["estimate"] < answer[name]["high"]
    assert list(answer["quantiles"]) == ["q00135", "q50", "q99865"]
    assert answer["honest"]["ppk"]["low"] < answer["ppk"]["estimate"] < answer["honest"]["ppk"]["high"]
    assert answer["warning"] is None


def test_pooled_deviations_where_they_are_asked_for(spc: Terminal) -> None:
    answer = capability(spc, "--lower", 73.95, "--upper", 74.05, "--sigma-from", "pooled_s")
    pooled = fmean(float(variance(row)) for row in exact_rows(RINGS)) ** 0.5  # rows of one size
    assert answer["sigma_within"] == pytest.approx(pooled, rel=1e-12)


def test_gear_diameters_warn_that_normal_is_doubtful(spc: Terminal) -> None:
    answer = capability(spc, "--lower", 0.97, "--upper", 1.03, "--model", "normal", file=GEARS)
    assert answer["sigma_overall"] == pytest.approx(0.6278908e-2, abs=5e-9)  # printed from single precision
    assert answer["normality"]["anderson_darling"] == pytest.approx(1.457952, abs=5e-7)
    assert answer["normality"]["p"] == pytest.approx(0.000864, abs=5e-7)
    assert "The normal model is doubtful (p = 0.00086 for 100 pieces" in answer["warning"]
    chosen = capability(spc, "--lower", 0.97, "--upper", 1.03, file=GEARS)
    assert chosen["model"] == "normal"
    assert "100 pieces contradict it (p = 0.00086)" in chosen["why"]
    assert chosen["why"] in chosen["warning"]


def test_one_limit_leaves_out_what_needs_two(spc: Terminal) -> None:
    answer = capability(spc, "--upper", 74.05)
    assert list(answer) == KEYS
    assert [answer[name] is None for name in INDICES] == [True, False, True, False, True]


def test_a_wider_confidence_gives_a_wider_interval(spc: Terminal) -> None:
    usual, wide = (
        capability(spc, "--lower", 73.95, "--upper", 74.05, "--confidence", level) for level in (0.95, 0.99)
    )
    for name in INDICES:
        assert wide[name]["low"] < usual[name]["low"]
        assert wide[name]["high"] > usual[name]["high"]


def test_a_magnitude_has_no_lower_limit_at_its_natural_zero(spc: Terminal) -> None:
    file = spc.folder / "runout.csv"
    rows = ["x1,x2,x3", *(f"{8 + k % 4},{9 + k % 3},{7 + k % 5}" for k in range(20))]
    file.write_text("\n".join(rows), encoding="utf-8")
    asked = ("--lower", 0, "--upper", 25, "--kind", "runout")
    answer = capability(spc, *asked, "--model", "normal", file=file)
    assert answer["cp"] is None
    assert answer["cpk"]["estimate"] > 1
    assert "Runout cannot fall below 0, so the normal model fits it badly" in answer["warning"]
    chosen = capability(spc, *asked, file=file)
    assert chosen["model"] != "normal"
    assert chosen["pp"] is None
    assert "only the upper index counts" in chosen["warning"]


def test_few_pieces_are_taken_on_trust_and_nothing_is_nan(spc: Terminal) -> None:
    file = spc.folder / "few.csv"
    file.write_text("x1,x2\n10.0,10.2\n10.1,9.9\n", encoding="utf-8")
    answer = capability(spc, "--lower", 9, "--upper", 11, file=file)
    assert answer["normality"]["p"] is None
    assert "Too few pieces to test the normal model" in answer["warning"]
    two = spc.folder / "two.csv"
    two.write_text("10.0\n10.2\n", encoding="utf-8")
    for more in (("--json",), ()):
        said = spc("capability", "--readings", two, "--lower", 9, "--upper", 11, *more)
        assert said.code == 0
        assert "nan" not in said.out.lower()


def test_the_table_carries_interval_and_number_of_pieces(spc: Terminal) -> None:
    said = spc("capability", "--readings", RINGS, "--lower", 73.95, "--upper", 74.05)
    assert said.code == 0
    assert "125 in 25 subgroups" in said.out
    assert "Cpk     1.63   1.38 to 1.87" in said.out
    *_, last = said.out.splitlines()
    assert last.startswith("With 125 pieces Ppk is 1.60; at 95 % nothing better than 1.39 may be promised")


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ("", "capability wants a tolerance limit. Allowed: lower, upper or both."),
        ("--lower 75 --upper 74", "the lower limit is not below the upper one"),
        ("--upper 74.05 --target 75", "the target lies outside the limits"),
        ("--upper nan", "the number is not finite"),
        ("--upper 74.05 --confidence 1.5", "the confidence is out of range"),
        ("--upper 74.05 --minimum 0", "the required index is not above 0"),
        ("--upper 74.05 --kind visual", "a look has no capability index"),
    ],
)
def test_what_has_no_answer_is_refused(spc: Terminal, options: str, says: str) -> None:
    said = spc("capability", "--readings", RINGS, "--json", *options.split())
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert len(said.err.splitlines()) == 1
