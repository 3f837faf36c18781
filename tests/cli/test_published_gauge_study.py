"""`spc gauge-study --json` key by key: AIAG, Measurement Systems Analysis, 4th ed. (2010), figures III-B 15 and 16.

*Print* from memory; *computed* by a second program from the same data, unrounded.
"""

from itertools import product
from pathlib import Path
from statistics import fmean

import pytest
from published_files import written_as
from terminal import AIAG, Terminal

NAMES = ["repeatability", "reproducibility", "interaction", "grr", "part", "total"]


def study(spc: Terminal, file: Path, *more: object) -> dict:
    said = spc("gauge-study", "--readings", file, "--json", *more)
    assert (said.code, said.err) == (0, "")
    return said.json


def holds(found: float, printed: str) -> None:
    decimals = len(printed.partition(".")[2])
    assert found == pytest.approx(float(printed), abs=0.5000001 * 10.0**-decimals), printed


ANOVA = [
    ("part", "df", "9"), ("appraiser", "df", "2"), ("interaction", "df", "18"), ("repeatability", "df", "60"),
    ("total", "df", "89"),
    ("appraiser", "ss", "3.167262"), ("appraiser", "ms", "1.583631"), ("part", "ss", "88.361934"),
    ("part", "ms", "9.817993"), ("interaction", "ss", "0.358982"), ("interaction", "ms", "0.019943"),
    ("interaction", "f", "0.4337"), ("interaction", "p", "0.97411"), ("repeatability", "ss", "2.758933"),
    ("repeatability", "ms", "0.045982"), ("total", "ss", "94.647112"),
    ("part", "f", "245.614"), ("appraiser", "f", "39.6172"),  # against the pooled mean square 0.039973, 78 df
]  # fmt: skip


@pytest.mark.parametrize(("source", "key", "printed"), ANOVA)
def test_the_analysis_of_variance(spc: Terminal, source: str, key: str, printed: str) -> None:
    lines = {line["source"]: line for line in study(spc, AIAG)["anova"]}
    holds(lines[source][key], printed)


COMPONENTS = [
    ("sigma", "repeatability", "0.199933"), ("sigma", "reproducibility", "0.226838"), ("sigma", "interaction", "0"),
    ("sigma", "grr", "0.302372"), ("sigma", "part", "1.042327"), ("sigma", "total", "1.085300"),
    ("percent_of_total", "repeatability", "18.422"), ("percent_of_total", "reproducibility", "20.901"),
    ("percent_of_total", "grr", "27.861"), ("percent_of_total", "part", "96.041"),
    ("percent_of_total", "total", "100"), ("percent_of_total", "interaction", "0"),
]  # fmt: skip


@pytest.mark.parametrize(("group", "name", "printed"), COMPONENTS)
def test_the_components(spc: Terminal, group: str, name: str, printed: str) -> None:
    holds(study(spc, AIAG)[group][name], printed)


BY_RANGES = [
    ("sigma", "repeatability", "0.20186"), ("sigma", "reproducibility", "0.22967"), ("sigma", "grr", "0.30577"),
    ("sigma", "part", "1.10460"), ("sigma", "total", "1.14613"),
    ("percent_of_total", "repeatability", "17.61"), ("percent_of_total", "reproducibility", "20.04"),
    ("percent_of_total", "grr", "26.68"), ("percent_of_total", "part", "96.38"),
]  # fmt: skip


@pytest.mark.parametrize(("group", "name", "printed"), BY_RANGES)
def test_averages_and_ranges(spc: Terminal, group: str, name: str, printed: str) -> None:
    """The print takes K 0.5908, 0.5231, 0.3146; exact, from d2*, they are 0.590818, 0.523138, 0.314560 (1.3e-4)."""
    digit = 0.5000001 * 10.0 ** -len(printed.partition(".")[2])
    found = study(spc, AIAG)["average_range"][group][name]
    assert found == pytest.approx(float(printed), abs=digit + 1.3e-4 * float(printed))


def test_sizes_told_apart(spc: Terminal) -> None:
    answer = study(spc, AIAG)
    assert (answer["ndc"], answer["average_range"]["ndc"]) == (4, 5)
    holds(answer["ndc_exact"], "4.8750")  # √2 times; the print's 1.41 gives 4.8605 and the same 4
    assert answer["average_range"]["ndc_exact"] == pytest.approx(5.0937 * 2**0.5 / 1.41, abs=1e-3)
    assert answer["interaction_pooled"] is True


def test_of_the_tolerance_only_where_one_is_given(spc: Terminal) -> None:
    plain, given = study(spc, AIAG), study(spc, AIAG, "--tolerance", 4.5)
    assert plain["percent_of_tolerance"] is None
    assert list(given["percent_of_tolerance"]) == NAMES
    for name, share in given["percent_of_tolerance"].items():
        assert share == pytest.approx(100 * 6 * given["sigma"][name] / 4.5, rel=1e-12)
    assert {**given, "percent_of_tolerance": None} == plain


def test_an_interaction_that_may_be_there_is_kept(spc: Terminal) -> None:
    """F of part and appraiser against interaction, reproducibility with it: worked out here by the definitions."""
    cells = {
        (appraiser, part): [10 * part + 2 * (part * appraiser % 3) + trial / 2 for trial in (0, 1)]
        for appraiser, part in product((1, 2, 3), range(1, 6))
    }
    rows = [
        [str(appraiser), str(part), str(trial), str(value)]
        for (appraiser, part), values in cells.items()
        for trial, value in enumerate(values, start=1)
    ]
    file = spc.folder / "kept.csv"
    file.write_text("\n".join(",".join(row) for row in [["appraiser", "part", "trial", "value"], *rows]))
    answer = study(spc, file)
    lines = {line["source"]: line for line in answer["anova"]}

    grand = fmean(value for values in cells.values() for value in values)
    of_cell = {key: fmean(values) for key, values in cells.items()}
    of_part = {part: fmean(of_cell[each, part] for each in (1, 2, 3)) for part in range(1, 6)}
    of_people = {each: fmean(of_cell[each, part] for part in range(1, 6)) for each in (1, 2, 3)}
    ms = {
        "part": 6 * sum((mean - grand) ** 2 for mean in of_part.values()) / 4,
        "appraiser": 10 * sum((mean - grand) ** 2 for mean in of_people.values()) / 2,
        "interaction": 2
        * sum((of_cell[a, p] - of_part[p] - of_people[a] + grand) ** 2 for a, p in of_cell)
        / 8,
        "repeatability": sum((v - of_cell[key]) ** 2 for key, values in cells.items() for v in values) / 15,
    }
    for name, expected in ms.items():
        assert lines[name]["ms"] == pytest.approx(expected, rel=1e-9)
    assert answer["interaction_pooled"] is False
    assert lines["interaction"]["p"] <= 0.25
    assert lines["part"]["f"] == pytest.approx(ms["part"] / ms["interaction"], rel=1e-9)
    assert lines["appraiser"]["f"] == pytest.approx(ms["appraiser"] / ms["interaction"], rel=1e-9)
    sigma = answer["sigma"]
    both = (ms["interaction"] - ms["repeatability"]) / 2
    people = max(0.0, (ms["appraiser"] - ms["interaction"]) / 10)
    assert sigma["repeatability"] == pytest.approx(ms["repeatability"] ** 0.5, rel=1e-9)
    assert sigma["interaction"] == pytest.approx(both**0.5, rel=1e-9)
    assert sigma["reproducibility"] == pytest.approx((people + both) ** 0.5, rel=1e-9)
    assert sigma["grr"] == pytest.approx((people + both + ms["repeatability"]) ** 0.5, rel=1e-9)
    assert sigma["part"] == pytest.approx(((ms["part"] - ms["interaction"]) / 6) ** 0.5, rel=1e-9)


def test_one_person_twenty_parts(spc: Terminal) -> None:
    """Montgomery, SQC, Table 8.6 (from memory, reproduces the print): mean 22.3, total s 3.17."""
    pairs = (
        "21,20 24,23 20,21 27,27 19,18 23,21 22,21 19,17 24,23 25,23 "
        "21,20 18,19 23,25 24,24 29,30 26,26 20,20 19,21 25,26 19,19"
    )
    read = [[float(each) for each in pair.split(",")] for pair in pairs.split()]
    lines = [f"A,{part},{trial},{v}" for part, two in enumerate(read, 1) for trial, v in enumerate(two, 1)]
    file = spc.folder / "one.csv"
    file.write_text("\n".join(["appraiser,part,trial,value", *lines]))
    answer = study(spc, file, "--tolerance", 55)
    assert answer["sigma"]["repeatability"] == pytest.approx(
        (sum((one - two) ** 2 for one, two in read) / 40) ** 0.5, rel=1e-9
    )
    assert answer["sigma"]["repeatability"] == pytest.approx(0.887, abs=0.04)  # print, by ranges
    total = next(line for line in answer["anova"] if line["source"] == "total")
    assert (total["ss"] / total["df"]) ** 0.5 == pytest.approx(3.171993, abs=5.1e-7)
    assert [answer["sigma"][name] for name in ("reproducibility", "interaction")] == [None, None]
    assert answer["average_range"] is None


LAYOUTS = (
    "BOM and semicolons",
    "tabs",
    "any order and case",
    "empty cells at the end",
    "old line ends",
    "quoted",
)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_layout_gives_one_answer(spc: Terminal, layout: str) -> None:
    text = written_as(spc.folder / "study.csv", layout, _numbers()).read_text(encoding="utf-8")
    for name, column in (("x1", "appraiser"), ("x2", "part"), ("x3", "trial"), ("x4", "value")):
        text = text.replace(name, column).replace(name.upper(), column.upper())
    (spc.folder / "study.csv").write_text(text, encoding="utf-8")
    assert study(spc, spc.folder / "study.csv") == study(spc, AIAG)


def _numbers() -> list[list[str]]:
    return [row.split(",") for row in AIAG.read_text(encoding="utf-8").splitlines()[1:]]
