"""`spc review`: a file in each form, one machine or all, a period in the plant's time."""

import json
from pathlib import Path

import pytest
from terminal import GOOD, MOUNTED, PLAN, Terminal, check_row


@pytest.fixture
def filled(spc: Terminal) -> Terminal:
    """A terminal whose record holds seven hourly checks on one of two machines."""
    two = PLAN.replace('[[machine]]\nid = "R1"\n', '[[machine]]\nid = "R1"\n[[machine]]\nid = "R2"\n')
    rows = (check_row(hour, GOOD[hour % 5 :] + GOOD[: hour % 5], 100 * (hour - 6)) for hour in range(7, 14))
    spc.write("".join(rows), MOUNTED, plan=two)
    assert spc.intake().code == 0
    return spc


def review(spc: Terminal, *more: object) -> list[dict]:
    said = spc("review", "--part", "P-31", "--out", "review.json", "--db", spc.record, *more)
    assert (said.code, said.err) == (0, "")
    assert "review.json: P-31 on R1" in said.out
    text = Path("review.json").read_text(encoding="utf-8")
    assert "NaN" not in text
    answer = json.loads(text)
    return answer if isinstance(answer, list) else answer.get("reviews", [answer])


def test_machines_without_a_check_are_left_out(filled: Terminal) -> None:
    found = review(filled)
    assert [each["machine"] for each in found] == ["R1"]
    assert found == [{**each, "made_at": found[0]["made_at"]} for each in review(filled, "--machine", "R1")]


@pytest.mark.parametrize(
    ("period", "checks"),
    [
        (("--from", "2026-03-02", "--to", "2026-03-02"), 7),
        (("--from", "2026-03-02T09:00"), 5),
        (("--to", "2026-03-02T09:00"), 2),
        (("--from", "2026-03-02T08:00+01:00", "--to", "2026-03-02T10:00"), 2),
    ],
)
def test_a_period_is_from_and_before_in_the_plants_time(
    filled: Terminal, period: tuple[str, ...], checks: int
) -> None:
    assert review(filled, *period)[0]["checks"] == checks


@pytest.mark.parametrize(("form", "begins"), [("html", b"<"), ("xlsx", b"PK"), ("HTML", b"<")])
def test_the_ending_names_the_form(filled: Terminal, form: str, begins: bytes) -> None:
    said = filled("review", "--part", "P-31", "--out", f"review.{form}", "--db", filled.record)
    assert (said.code, said.err) == (0, "")
    assert Path(f"review.{form}").read_bytes().lstrip().startswith(begins)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("--part P-13", "the record has no such part (got 'P-13'). Allowed: P-31."),
        ("--part P-31 --machine R9", "P-31 has no such machine (got 'R9'). Allowed: R1, R2."),
        ("--part P-31 --machine R2", "there is nothing to review"),
        ("--part P-31 --from yesterday", "--from: this is not a date and time (got 'yesterday')"),
        ("--part P-31 --from 2026-03-04 --to 2026-03-02", "the period ends before it begins"),
        ("--part P-31 --shift 07:00", "07:00"),
        ("--part P-31 --out nowhere/review.json", "cannot be written"),
    ],
)
def test_what_cannot_be_reviewed_is_said_in_words(filled: Terminal, more: str, says: str) -> None:
    out = () if "--out" in more else ("--out", "review.json")
    said = filled("review", *more.split(), *out, "--db", filled.record)
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert not Path("review.json").exists()
