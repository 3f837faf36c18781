"""`spc size …` against published sizes.

Over pins: a public worked page on helical gears (module 1, 20 teeth, 20°, 1.7 mm pins: 22.2941, angle at the pin
24.135°). Over wires: M10 × 1.5 with its 9.026 pitch diameter (ISO 724), textbook formula in a calculator; best wire
of 8 threads an inch: US Army Ordnance course OD1645 p. 127. Straightness: an autocollimator example of public lecture
slides (end points 3 µm).
"""

import math

import pytest
from terminal import Terminal

PINS = ["size", "over-pin", "--module", "1", "--teeth", "20", "--pressure-angle", "20", "--pin", "1.7"]
THREAD = ["size", "over-wire", "--pitch", "1.5", "--angle", "60", "--wire", "0.866"]


def test_over_pins_forth_and_back(spc: Terminal) -> None:
    answer = spc(*PINS, "--tooth-thickness", math.pi / 2, "--json").json
    assert list(answer) == [
        "over_pin_mm",
        "tooth_thickness_mm",
        "pressure_angle_at_pin_deg",
        "change_factor",
        "slide_gain",
        "best_pin_mm",
    ]
    assert answer["over_pin_mm"] == pytest.approx(22.2941, abs=5e-5)
    assert answer["pressure_angle_at_pin_deg"] == pytest.approx(24.1350, abs=5e-5)
    back = spc(*PINS, "--over-pin", answer["over_pin_mm"], "--json").json
    assert back["tooth_thickness_mm"] == pytest.approx(math.pi / 2, abs=1e-9)


def test_over_wires_forth_and_back(spc: Terminal) -> None:
    answer = spc(*THREAD, "--pitch-diameter", 9.026, "--json").json
    assert list(answer) == [
        "over_wire_mm",
        "over_wire_exact_mm",
        "pitch_diameter_mm",
        "best_wire_mm",
        "lead_angle_deg",
        "lead_correction_mm",
    ]
    assert answer["over_wire_mm"] == pytest.approx(9.026 + 3 * 0.866 - 0.866025 * 1.5, abs=5e-6)
    with_lead = spc(*THREAD, "--over-wire", answer["over_wire_exact_mm"], "--json").json
    assert with_lead["pitch_diameter_mm"] == pytest.approx(9.026, abs=1e-9)
    textbook = spc(*THREAD, "--over-wire", answer["over_wire_mm"], "--textbook", "--json").json
    assert textbook["pitch_diameter_mm"] == pytest.approx(9.026, abs=1e-9)


def test_wires_that_stand_out_of_a_known_thread_answer_as_without_it(spc: Terminal) -> None:
    plain = spc(*THREAD, "--pitch-diameter", 9.026, "--json").json
    assert spc(*THREAD, "--pitch-diameter", 9.026, "--major-diameter", 9.968, "--json").json == plain


def test_without_a_wire_the_best_one_is_taken(spc: Terminal) -> None:
    pitch = 25.4 / 8
    said = spc("size", "over-wire", "--pitch", pitch, "--angle", 60, "--pitch-diameter", 20, "--json")
    assert said.json["best_wire_mm"] / 25.4 == pytest.approx(0.072, abs=5e-4)


def test_straightness_of_a_profile_whatever_its_separator(spc: Terminal) -> None:
    file = spc.folder / "profile.csv"
    heights = ["0", "0", "1,5", "5", "4", "4", "6"]
    rows = [f"{height};{place * 100}" for place, height in enumerate(heights)]
    file.write_text("\n".join(["Height_um;position_mm", *rows]), encoding="utf-8")
    answer = spc("size", "straightness", "--profile", file, "--json").json
    assert list(answer) == [
        "minimum_zone_um",
        "least_squares_um",
        "least_squares_peak_um",
        "least_squares_valley_um",
        "end_points_um",
    ]
    assert answer["end_points_um"] == pytest.approx(3.0, abs=1e-12)
    assert answer["least_squares_um"] == pytest.approx(85 / 28, abs=1e-12)


def test_answers_in_words_carry_their_units(spc: Terminal) -> None:
    said = spc(*PINS, "--tooth-thickness", math.pi / 2)
    assert said.code == 0
    assert "over pins                     22.29409 mm" in said.out
    assert "pressure angle at pin centre  24.13499 °" in said.out


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ("over-pin --module 1 --teeth 20 --pressure-angle 20 --pin 0.1 --tooth-thickness 1", "too thin"),
        ("over-pin --module 0 --teeth 2 --pressure-angle 20 --pin 1.7 --tooth-thickness 1", "module"),
        ("over-wire --pitch 1.5 --angle 60 --pitch-diameter 9 --wire 5", "ride on the crests"),
        ("over-wire --pitch 1.5 --angle 60 --over-wire 1", "leaves no pitch diameter"),
        (
            "over-wire --pitch 1.5 --angle 60 --pitch-diameter 9 --wire 0.7 --major-diameter 9.97",
            "the crests",
        ),
        ("over-wire --pitch 1.5 --angle 60 --pitch-diameter 9 --major-diameter 8.5", "outside the thread"),
        ("straightness --profile none.csv", "cannot be opened"),
    ],
)
def test_what_has_no_size_is_refused(spc: Terminal, options: str, says: str) -> None:
    said = spc("size", *options.split(), "--json")
    assert (said.code, said.out) == (1, "")
    assert says in said.err


def test_a_gap_in_a_profile_is_refused_with_every_cell(spc: Terminal) -> None:
    file = spc.folder / "profile.csv"
    file.write_text("position_mm,height_um\n0,0\n1,one\n2,\n3,4\n", encoding="utf-8")
    said = spc("size", "straightness", "--profile", file)
    assert (said.code, said.out) == (1, "")
    assert "row 3, height_um: a number holds no letters" in said.err
    assert "row 4, height_um: the value is missing" in said.err


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ("0,1\n", "a profile needs two points or more"),
        ("0,1\n5,2\n5,3\n", "repeats after point 2"),
        ("0,1\n5,2\n4,3\n", "goes back after point 2"),
    ],
)
def test_what_is_no_profile_is_refused_with_its_file(spc: Terminal, rows: str, says: str) -> None:
    file = spc.folder / "stem.csv"
    file.write_text("position_mm,height_um\n" + rows, encoding="utf-8")
    said = spc("size", "straightness", "--profile", file)
    assert (said.code, said.out) == (1, "")
    assert says in said.err
    assert "stem.csv" in said.err
