"""Colours are told apart by everybody, words can be read, marks differ by shape, pages use the same colours."""

import itertools
import tomllib
from pathlib import Path

import numpy as np
import pytest

from spc.drawing.glyphs import EVENT_GLYPHS, VERDICT_GLYPHS
from spc.drawing.theme import FONT, LOOKS, THEMES, Theme, page_colours, theme, verdict_look
from spc.shop.layouts import VERDICTS

PROJECT = Path(__file__).resolve().parents[2]
BOTH = pytest.mark.parametrize("colours", THEMES.values(), ids=THEMES)
APART = 15.0
"""CIE 1976 ΔE*ab; 2.3 is just noticeable (Mahy, Van Eycken, Oosterlinck 1994, from memory), and a small mark
seen from two metres needs several times that."""

# Machado, Oliveira, Fernandes: A physiologically-based model for simulation of color vision deficiency, IEEE
# TVCG 15 (2009), severity 1.0; matrices from memory, for linear sRGB. Each row must sum to one: white stays.
SEEN = {
    "everybody": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


def linear(colour: str) -> np.ndarray:
    """Linear sRGB, IEC 61966-2-1 (from memory)."""
    coded = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255
    return np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)


def lab(light: np.ndarray) -> np.ndarray:
    """CIE 1976 L*a*b* under D65, ISO/CIE 11664-4 (from memory)."""
    to_xyz = [
        [0.4124564, 0.3575761, 0.1804375],
        [0.2126729, 0.7151522, 0.072175],
        [0.0193339, 0.119192, 0.9503041],
    ]
    relative = np.array(to_xyz) @ np.clip(light, 0, 1) / np.array([0.95047, 1, 1.08883])
    bent = np.where(relative > (6 / 29) ** 3, np.cbrt(relative), relative / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * bent[1] - 16, 500 * (bent[0] - bent[1]), 200 * (bent[1] - bent[2])])


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of contrast ratio and relative luminance (from memory)."""
    dark, bright = sorted(float(np.array([0.2126, 0.7152, 0.0722]) @ linear(each)) for each in (one, other))
    return (bright + 0.05) / (dark + 0.05)


def test_the_formulas_are_right_where_the_answer_is_known() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21, abs=0.01)  # WCAG 2.2: the largest there is
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)  # well known as just too little
    assert lab(linear("#FF0000")) == pytest.approx(
        [53.24, 80.09, 67.20], abs=0.05
    )  # common tables of sRGB red
    for matrix in SEEN.values():
        assert matrix.sum(axis=1) == pytest.approx([1, 1, 1], abs=2e-6)


@BOTH
@pytest.mark.parametrize("eye", SEEN)
def test_colours_of_data_are_told_apart(colours: Theme, eye: str) -> None:
    seen = {colour: lab(SEEN[eye] @ linear(colour)) for colour in colours.data_colours}
    for one, other in itertools.combinations(seen, 2):
        assert np.linalg.norm(seen[one] - seen[other]) > APART, (eye, one, other)


@BOTH
def test_words_can_be_read(colours: Theme) -> None:
    for ground in (colours.ground, colours.plate):
        for words in (colours.ink, colours.quiet):
            assert contrast(words, ground) >= 4.5
    for colour in colours.data_colours:
        assert contrast(colour, colours.ground) >= 4.5
    for verdict in VERDICTS:
        look = verdict_look(verdict, colours.name)
        assert contrast(look.colour, look.on_colour) >= 4.5


def test_marks_differ_by_shape_and_not_only_by_colour() -> None:
    assert len({look.path for look in LOOKS.values() if look.filled}) == sum(
        look.filled for look in LOOKS.values()
    )
    assert len({(look.path, look.filled) for look in LOOKS.values()}) == len(LOOKS) == 8
    assert len({look.path for look in LOOKS.values()}) == 8
    assert {look.filled for look in LOOKS.values()} == {True, False}
    assert len(set(VERDICT_GLYPHS.values())) == 4
    assert (
        len(
            {
                EVENT_GLYPHS[kind]
                for kind in ("die_set_mounted", "blank_batch", "gauge_mastered", "machine_stopped")
            }
        )
        == 4
    )


def test_verdicts_have_the_words_of_the_shop() -> None:
    words = [verdict_look(verdict, "light").words for verdict in VERDICTS]
    assert words == ["Run on", "Look closer", "Adjust", "Stop and hold"]
    assert 'aria-label="Stop and hold"' in verdict_look("hold", "dark").svg(24)
    with pytest.raises(KeyError):
        verdict_look("fine", "light")


def test_an_unknown_theme_is_light() -> None:
    assert theme("sepia") is theme("light")
    assert theme("dark").name == "dark"


def test_the_fonts_end_with_the_generic_family() -> None:
    assert FONT.split(", ")[-1] == "sans-serif"


def test_the_pages_have_the_colours_and_settings_of_the_house() -> None:
    config = tomllib.loads((PROJECT / ".streamlit/config.toml").read_text(encoding="utf-8"))
    assert config["theme"] == {name: page_colours(colours) for name, colours in THEMES.items()}
    assert config["server"]["headless"] is True
    assert config["server"]["address"] == "127.0.0.1"
    assert config["server"]["showEmailPrompt"] is False
    assert config["server"]["fileWatcherType"] == "none"
    assert config["browser"]["gatherUsageStats"] is False
    assert config["client"] == {"toolbarMode": "minimal", "showErrorDetails": "none"}
