"""The review on paper: the published piston rings' numbers in every form, and nothing asked of the outside."""

import importlib
import io
import json
import re
import subprocess
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path

import openpyxl
import pytest

from spc.errors import Refused
from spc.reports import REVIEW_FORMS, review_html, review_json, review_pdf, review_xlsx, write_review
from spc.reports.capability_words import steady_words
from spc.station import Review, open_station

RINGS = (
    Path(__file__).parents[1] / "references" / "piston_rings.csv"
)  # Montgomery, SQC 2nd ed. 1991, p. 206-213
PLAN = """
[part]
id = "RING"
description = "piston ring <cut & tempered>"
[plant]
zone = "UTC"
shifts = ["06:00", "18:00"]
[check]
interval_minutes = 60
[[characteristic]]
name = "inside_diameter"
kind = "diameter"
unit = "mm"
nominal = 74.000
lower = 73.950
upper = 74.050
minimum_cpk = 1.33
[[characteristic]]
name = "look"
kind = "visual"
subgroup_size = 1
answers = ["ok", "chip mark"]
"""


@cache
def review() -> Review:
    station = open_station(":memory:", now=lambda: datetime(2026, 3, 20, 12, tzinfo=UTC))
    station.take_plan(PLAN)
    for hour, line in enumerate(RINGS.read_text(encoding="utf-8").split()[1:]):
        time = datetime(2026, 3, 2, 6, tzinfo=UTC) + timedelta(hours=hour)
        values = {"inside_diameter": line.split(","), "look": ["chip mark" if hour == 3 else "ok"]}
        station.check_in({"time": time.isoformat(), "machine": "M1", "part": "RING", "values": values})
    return station.review("RING", "M1")


@cache
def html() -> str:
    return review_html([review()])


def words(of: str) -> str:
    """The text of a page, without its drawings and tags."""
    bare = re.sub(r"<(style|svg)\b.*?</\1>", " ", of, flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", bare).split())


def test_the_page_asks_nothing_of_the_outside() -> None:
    page = html()
    assert "http" not in page
    assert not re.search(r"<(script|link|iframe|img)\b|@import|@font-face|url\((?!#)", page)


def test_clip_paths_of_several_pictures_have_names_of_their_own() -> None:
    names = re.findall(r'\bid="([^"]+)"', html())
    assert names
    assert len(names) == len(set(names))
    assert set(re.findall(r"url\(#([^)]+)\)", html())) <= set(names)


def test_the_page_says_the_published_numbers_and_how_they_came_to_be() -> None:
    said = words(html())
    for number in (
        "74.0012",
        "74.0146",
        "73.9878",
        "0.0491",
        "1.63",
        "n = 125",
        "25 hourly checks",
        "R-bar/d2",
    ):
        assert number in said, number
    assert "Cpk 1.33 or more: shown" in said
    assert "Cpk answers, because the level is fixed and the checks stood still." in said
    assert "ppm by the normal model, which 125 pieces cannot confirm" in said
    assert "The interval comes from the spread between 25 checks." in said
    assert "That is model A1 of ISO 22514-2." in said
    assert "provisional, nobody has signed" in said
    assert "chip mark on 1 piece" in said
    assert "made 2026-03-20 12:00" in said


def test_the_caution_stands_once_and_the_pages_are_numbered() -> None:
    assert words(html()).count("Local law and codes") == 1
    assert "releases no parts by itself" in words(html())
    assert 'counter(page) " of " counter(pages)' in html()


def test_what_the_plan_says_cannot_become_part_of_the_page() -> None:
    assert "<cut" not in html()
    assert "&lt;cut &amp; tempered&gt;" in html()


def test_no_likeness_of_a_table_headed_by_two_sigmas() -> None:
    heads = " ".join(re.findall(r"<th[^>]*>(.*?)</th>", html())).lower()
    assert not re.search(r"\b(within|overall|observed|expected)\b", heads)
    assert "95 % interval by checks" in heads


def test_every_index_stands_with_two_decimals() -> None:
    rows = re.findall(r'<span class="bold">(?:Cp|Cpk|Pp|Ppk|Cpm)</span></td>(.*?)</tr>', html())
    assert len(rows) == 5
    for row in rows:
        value, *intervals, pieces, _ = re.findall(r"<td[^>]*>(.*?)</td>", row)
        assert re.fullmatch(r"\d\.\d\d", value)
        assert all(re.fullmatch(r"\d\.\d\d to \d\.\d\d|–", each) for each in intervals)
        assert pieces == "125"


def test_pdf_holds_the_same_numbers() -> None:
    pdf = review_pdf(html())
    assert pdf.startswith(b"%PDF")
    told = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True)
    text = told.stdout.decode("utf-8")
    for number in ("74.0012", "74.0146", "73.9878", "n = 125", "page 1 of "):
        assert number in text, number


def test_without_its_extra_pdf_is_refused_with_the_way_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(name: str) -> None:
        raise ImportError(f"No module named {name!r}")

    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(Refused, match=r"rolled-parts-spc\[pdf\].*\.html"):
        review_pdf("<p>")


def test_the_workbook_opens_and_holds_numbers() -> None:
    book = openpyxl.load_workbook(io.BytesIO(review_xlsx([review()])))
    assert book.sheetnames == ["about", "summary", "subgroups", "compared", "checks due", "events"]
    summary = dict(zip(*([cell.value for cell in row] for row in book["summary"].iter_rows()), strict=True))
    assert summary["period centre"] == pytest.approx(74.001, abs=0.0005)
    assert summary["period mean range"] == pytest.approx(0.023, abs=0.0005)
    assert (summary["pieces"], summary["answer"]) == (125, "shown")
    rows = list(book["subgroups"].iter_rows(values_only=True))
    assert len(rows) == 26
    assert rows[1][9] == pytest.approx(74.0102)  # mean of the first five rings
    said = rows[0].index("verdict")
    assert {row[said] for row in rows[1:]} <= {"Run on", "Look closer", "Adjust", "Stop and hold"}
    assert book["checks due"].max_row == 26


def test_json_holds_the_same_numbers() -> None:
    (told,) = json.loads(review_json([review()]))["reviews"]
    (one,) = told["characteristics"]
    assert one["period_chart"]["centre"] == pytest.approx(74.001176, abs=5e-7)
    assert one["capability"]["n"] == 125
    assert told["checks_due"]["due"] == 25
    assert told["verdicts"]["hold"] == 1
    assert len(one["points"]) == 25


@pytest.mark.parametrize("form", [form for form in REVIEW_FORMS if form != ".pdf"])
def test_the_name_of_the_file_says_its_form(tmp_path: Path, form: str) -> None:
    path = write_review(tmp_path / f"review{form.upper()}", [review()])
    assert path.stat().st_size > 1000


def test_refused_forms_places_and_nothing_at_all(tmp_path: Path) -> None:
    with pytest.raises(Refused, match=r"\.pdf, \.html, \.xlsx, \.json"):
        write_review(tmp_path / "review.docx", [review()])
    with pytest.raises(Refused, match="cannot be written"):
        write_review(tmp_path / "missing" / "review.json", [review()])
    with pytest.raises(Refused, match="nothing to review"):
        write_review(tmp_path / "review.html", [])


def test_an_empty_review_is_a_page_too() -> None:
    station = open_station(":memory:", now=lambda: datetime(2026, 3, 20, 12, tzinfo=UTC))
    station.take_plan(PLAN)
    said = words(review_html([station.review("RING", "M1")]))
    assert "No check of this part was made on this machine" in said


def test_a_size_that_follows_the_die_is_not_called_unsteady() -> None:
    one = review().characteristics[0]
    assert one.capability is not None
    assert one.capability.plain is not None
    drifting = replace(
        one, capability=replace(one.capability, plain=replace(one.capability.plain, beyond=20))
    )
    told = steady_words(drifting)
    assert told.startswith("20 of 25 checks lie outside the limits that all of them give together.")
    assert (
        steady_words(replace(drifting, characteristic=replace(one.characteristic, judged_by="with_die_wear")))
        == ""
    )
    assert steady_words(one) == ""
