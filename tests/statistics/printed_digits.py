"""Half a unit of the last digit that a source prints, read from the digits themselves."""

import pytest


def printed(text: str):
    """The figure as it stands in print, met by whatever rounds to it (a half either way)."""
    mantissa, _, power = text.partition("e")
    decimals = len(mantissa.partition(".")[2]) - int(power or 0)
    return pytest.approx(float(text), rel=0.0, abs=0.5000001 * 10.0**-decimals)


def meets(found, texts: str) -> None:
    """As many figures as are printed, each within half a unit of its own last digit."""
    figures = texts.split()
    assert len(found) == len(figures)
    for value, text in zip(found, figures, strict=True):
        assert value == printed(text), f"{value!r} against {text}"
