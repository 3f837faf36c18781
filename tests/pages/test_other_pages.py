"""Review, die board, files, plan: real numbers of a small record, and refusals in words."""

import json
import socket
from collections.abc import Callable
from pathlib import Path

import pytest
from small_shop import press, twenty_checks, words, write
from streamlit.testing.v1 import AppTest

from spc.pages.launch import launch
from spc.station import Station

RunPage = Callable[[str], AppTest]


def test_the_review_counts_checks_and_draws_the_chart(run_page: RunPage) -> None:
    page = run_page("review:review_page")
    says = words(page)
    assert "Hourly checks" in says
    assert "15 hourly pieces out of tolerance" in says
    assert "there are 3" in says
    chart = json.loads(page.get("vega_lite_chart")[0].proto.spec)
    assert "means and ranges" in chart["description"]
    assert [each.proto.label for each in page.get("download_button")][:2] == [
        "Review as HTML",
        "as a workbook (XLSX)",
    ]


def test_indices_stand_with_their_interval_and_pieces(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    says = words(run_page("review:review_page"))
    assert "<td class=tight>Ppk</td>" in says
    assert "With 95 % certainty between" in says
    assert "<td class=tight>115</td>" in says  # 23 checks of 5 pieces


def test_the_review_of_one_shift(run_page: RunPage) -> None:
    page = run_page("review:review_page")
    next(each for each in page.selectbox if each.label == "Shift").set_value("14:00").run()
    assert not page.exception
    assert "No check was made in this period" in words(page)


def test_the_die_board_says_so_where_nothing_is_known_yet(run_page: RunPage) -> None:
    says = words(run_page("die_board:die_board_page"))
    assert "D-07" in says
    assert "not enough known yet" in says


def test_a_dropped_file_is_shown_before_it_is_saved(shop: Station, run_page: RunPage) -> None:
    page = run_page("take_file:take_file_page")
    rows = ["time,machine,part,characteristic,piece,value,counter"]
    rows += [f"2026-03-02T08:55:00,R1,P-31,over_pin,{piece},31.2{piece}0,740" for piece in (3, 4, 5)]
    rows += [
        "2026-03-02T08:55:00,R1,P-31,over_pin,4,31,2x,740",
        "2026-03-02T08:55:00,R9,P-31,over_pin,1,31.25,740",
    ]
    page.file_uploader[0].upload("cell.csv", "\n".join(rows).encode()).run()
    says = words(page)
    assert "31.230, 31.240, 31.250" in says
    assert "R9" in says
    assert shop.operator_view("P-31", "R1").counter == 540
    press(page, "Save what can be taken")
    assert not page.exception
    assert shop.operator_view("P-31", "R1").counter == 740
    assert "Saved: 3 new values" in words(page)


def test_a_file_with_a_die_change_may_begin_before_it(run_page: RunPage) -> None:
    """The record knows that D-07 was on since 05:50: what was made before the file's D-08 is no stranger."""
    page = run_page("take_file:take_file_page")
    rows = ["time,machine,part,characteristic,piece,value,counter"]
    rows += [
        "2026-03-02T08:30:00,R1,P-31,over_pin,1,31.251,700",
        "2026-03-02T05:00:00,R1,P-31,over_pin,1,31.251,9",
    ]
    events = "time,machine,part,event,value\n2026-03-02T08:50:00,R1,P-31,die_set_mounted,D-08\n"
    page.file_uploader[0].upload("cell.csv", "\n".join(rows).encode())
    page.file_uploader[1].upload("events.csv", events.encode()).run()
    says = words(page)
    assert "R1 gets its first die set only at 2026-03-02T05:50:00" in says
    assert "of 3" in says
    assert "08:50" not in says.split("Can be taken")[0].split("Not taken")[-1]


def test_a_file_that_is_no_table_is_refused_in_words(run_page: RunPage) -> None:
    page = run_page("take_file:take_file_page")
    page.file_uploader[0].upload("photo.csv", bytes(range(256))).run()
    assert not page.exception
    assert "This file cannot be read" in words(page)
    assert "photo.csv" in words(page)


def test_limits_need_a_name_and_twenty_checks(run_page: RunPage) -> None:
    says = words(run_page("plan_limits:plan_page"))
    assert "31.232 to 31.268 mm" in says
    assert "No limits yet: they are set from 20 good hourly checks, and there are 3." in says


def test_limits_are_signed_by_a_person(shop: Station, run_page: RunPage) -> None:
    twenty_checks(shop)
    page = run_page("plan_limits:plan_page")
    assert "provisional" in words(page)
    press(page, "Sign")
    assert "give a name" in words(page).lower()
    write(page, "Your name", "Q. Lead")
    press(page, "Sign")
    assert "Signed: the limits of over pins on R1, by Q. Lead" in words(page)


def test_a_plan_with_a_mistake_is_refused_with_its_line(run_page: RunPage) -> None:
    page = run_page("plan_limits:plan_page")
    page.file_uploader[0].upload("plan.toml", b'[part]\nid = "P-9"\ncolour = "blue"\n').run()
    press(page, "Bring it into force")
    assert "colour" in words(page)


def test_an_empty_record_says_how_to_begin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, run_page: RunPage
) -> None:
    monkeypatch.setenv("SPC_DB", f"{tmp_path}/empty.sqlite")
    assert "No plan is in the record yet" in words(run_page("hourly:hourly_page"))


def test_a_file_that_is_no_record_is_refused_before_the_server_starts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "holiday.jpg"
    place.write_bytes(b"\xff\xd8\xff" * 400)
    assert launch(str(place), _free_port(), demo=False) == 1
    said = capsys.readouterr().err
    assert "holiday.jpg" in said
    assert "Traceback" not in said


def test_a_port_in_use_is_said_in_one_paragraph(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert launch(None, port, demo=True) == 1
    said = capsys.readouterr().err
    assert str(port) in said
    assert "--port" in said
    assert said.count("\n") == 1


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
