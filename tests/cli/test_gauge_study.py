"""`spc gauge-study` on the AIAG example (Measurement Systems Analysis, 4th ed., from memory; see tests/references)."""

import csv

import pytest
from terminal import AIAG, Terminal

KEYS = [
    "anova",
    "sigma",
    "percent_of_total",
    "percent_of_tolerance",
    "ndc",
    "ndc_exact",
    "interaction_pooled",
    "average_range",
    "intervals",
]


def test_the_aiag_example(spc: Terminal) -> None:
    said = spc("gauge-study", "--readings", AIAG, "--tolerance", 4, "--json")
    assert (said.code, said.err) == (0, "")
    answer = said.json
    assert list(answer) == KEYS
    table = {line["source"]: line for line in answer["anova"]}
    assert list(table) == ["part", "appraiser", "interaction", "repeatability", "total"]
    assert table["part"]["ss"] == pytest.approx(88.361934, abs=5.1e-7)
    assert table["appraiser"]["f"] == pytest.approx(39.6172, abs=5.1e-5)
    assert table["interaction"]["p"] == pytest.approx(0.97411, abs=5.1e-6)
    assert (table["total"]["df"], table["total"]["ms"]) == (89, None)
    assert answer["sigma"] == {
        "repeatability": pytest.approx(0.199933, abs=5.1e-7),
        "reproducibility": pytest.approx(0.226838, abs=5.1e-7),
        "interaction": 0.0,
        "grr": pytest.approx(0.302372, abs=5.1e-7),
        "part": pytest.approx(1.042327, abs=5.1e-7),
        "total": pytest.approx(1.085300, abs=5.1e-7),
    }
    assert answer["percent_of_total"]["grr"] == pytest.approx(27.861, abs=5.1e-4)
    assert answer["percent_of_tolerance"]["grr"] == pytest.approx(600 * 0.302372 / 4, abs=1e-3)
    assert (answer["ndc"], answer["ndc_exact"]) == (4, pytest.approx(4.8750, abs=5.1e-5))
    assert answer["interaction_pooled"] is True
    assert answer["average_range"]["percent_of_total"]["grr"] == pytest.approx(26.68, abs=0.0051)
    assert answer["average_range"]["ndc"] == 5
    assert answer["intervals"]["grr"]["low"] < 0.302372 < answer["intervals"]["grr"]["high"]


def test_without_tolerance(spc: Terminal) -> None:
    answer = spc("gauge-study", "--readings", AIAG, "--json").json
    assert answer["percent_of_tolerance"] is None


def test_a_table_that_ends_in_a_sentence(spc: Terminal) -> None:
    said = spc("gauge-study", "--readings", AIAG)
    assert said.code == 0
    assert said.out.startswith("Gauge study of aiag_gauge_study.csv: 10 parts, 3 appraisers, 3 trials")
    assert said.out.splitlines()[-1] == (
        "The gauge in use takes 27.9 % of the spread seen and tells 4 sizes apart: good enough for some uses only; "
        "look first at how the people differ in using it."
    )
    coarse = spc("gauge-study", "--readings", AIAG, "--tolerance", 4).out
    assert "% of tolerance" in coarse
    assert "takes 45.4 % of the tolerance" in coarse


def test_one_appraiser(spc: Terminal) -> None:
    rows = [
        row for row in csv.reader(AIAG.read_text(encoding="utf-8").splitlines()) if row[0] in "appraiser A"
    ]
    (spc.folder / "one.csv").write_text("\n".join(",".join(row) for row in rows), encoding="utf-8")
    answer = spc("gauge-study", "--readings", "one.csv", "--json").json
    assert answer["sigma"]["reproducibility"] is None
    assert answer["average_range"] is None
    assert answer["sigma"]["grr"] == answer["sigma"]["repeatability"]
    assert spc("gauge-study", "--readings", "one.csv").code == 0


def test_german_sheet_letters(spc: Terminal) -> None:
    text = AIAG.read_text(encoding="utf-8").replace(",", ";").replace(".", ",")
    (spc.folder / "study.csv").write_text(text, encoding="utf-8")
    assert spc("gauge-study", "--readings", "study.csv", "--json").json["ndc"] == 4


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda text: text.replace("C,10,3,-2.16", "C,10,3,x"), ("row 91", "part 10, appraiser C")),
        (lambda text: text.replace("C,10,3,", "C,10,2,"), ("row 90 already",)),
        (lambda text: text.replace("trial", "try"), ("header lacks trial",)),
        (lambda text: text[: text.index("A,2,1")], ("too few parts",)),
        (lambda _: "appraiser,part,trial,value\n", ("no rows",)),
    ],
)
def test_what_is_no_study_is_refused_in_words(spc: Terminal, change, says) -> None:
    (spc.folder / "bad.csv").write_text(change(AIAG.read_text(encoding="utf-8")), encoding="utf-8")
    said = spc("gauge-study", "--readings", "bad.csv", "--json")
    assert (said.code, said.out) == (1, "")
    for words in says:
        assert words in said.err


def test_a_tolerance_of_nothing_and_wrong_usage(spc: Terminal) -> None:
    said = spc("gauge-study", "--readings", AIAG, "--tolerance", 0)
    assert (said.code, said.out) == (1, "")
    assert "tolerance must be above 0" in said.err
    assert spc("gauge-study").code == 64
    assert spc("gauge-study", "--readings", "nowhere.csv").code == 1
