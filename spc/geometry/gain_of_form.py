"""First guess of the slide gain from the geometry a plan names, with how far it may be off."""

from typing import Final

from spc.geometry.slide_gain import AGAINST_PROFILED_DIE, first_slide_gain
from spc.shop.form_geometry import FormGeometry, GainGuess

__all__ = ["gain_of_form"]

_RIGID_SHARE: Final = 0.2
_CREST_SHARE: Final = 0.5
_GAUGED: Final = {"spline": "pin", "thread": "wire", "worm": "wire", "groove": "ball"}
_SIDES: Final = {"profiled": 1.0, "plain": 2.0}


def gain_of_form(kind: str, geometry: FormGeometry) -> GainGuess | None:
    """Guess what a millimetre of approach of the dies does to a size of this kind.

    Parameters
    ----------
    kind : str
        Kind of the characteristic.
    geometry : FormGeometry
        With `at_aim` where the size is gauged over pins, wires or balls.

    Returns
    -------
    GainGuess or None
        Per millimetre of approach, so twice as much per millimetre of display with two slides; None where the
        slide does not move this kind, or geometry tells nothing of it.

    Notes
    -----
    The geometry is that of a rigid machine; spring of machine and part takes up to a fifth off, and the standard
    deviation is a fifth of the guess. A crest follows only while the die is open: a half.

    Examples
    --------
    >>> from spc.shop.form_geometry import GaugedSize, SplineForm
    >>> teeth = FormGeometry("spline", spline=SplineForm(1.0, 24, 30.0), at_aim=GaugedSize(26.9, 1.5, 1.5, 0.87))
    >>> gain_of_form("over_pin_diameter", teeth).gain
    0.87
    """
    sides = _SIDES[geometry.opposite_die]
    if geometry.at_aim is not None:
        gain = sides * geometry.at_aim.per_closing
        return GainGuess(gain, _RIGID_SHARE, _said(geometry))
    if kind not in AGAINST_PROFILED_DIE:
        return None
    guess = first_slide_gain(kind, opposite_die=geometry.opposite_die)
    share = _CREST_SHARE if kind == "crest_diameter" else _RIGID_SHARE
    return GainGuess(guess.gain, share, guess.method) if guess.gain else None


def _said(geometry: FormGeometry) -> str:
    if geometry.form == "spline":
        said = "the flanks move in by the tangent of the pressure angle, and the pin rides on their slope"
    elif geometry.form == "worm":
        said = "the flanks move in by the tangent of the flank angle, and the wires ride on their slope"
    else:
        said = f"the groove is carried inward as it is, and the {_GAUGED[geometry.form]}s with it"
    twice = "; a plain die opposite carries the crests, so that the profiled one goes in for both"
    return said + (twice if geometry.opposite_die == "plain" else "")
