"""Limits that nature sets: a lower limit of 0 for what cannot be negative is no tolerance limit."""

import argparse

from spc.errors import Refused
from spc.shop.layouts import MAGNITUDES

__all__ = ["MODELS", "model_words", "natural_limit", "without_natural_limit"]

MODELS = ("auto", "normal", "half_normal", "folded_normal", "rayleigh", "weibull", "lognormal", "empirical")
"""Words of `--model`."""
_FROM_ZERO = ("half_normal", "folded_normal", "rayleigh", "weibull", "lognormal")
_SPOKEN = {"half_normal": "half-normal", "rayleigh": "Rayleigh", "weibull": "Weibull"}


def without_natural_limit(arguments: argparse.Namespace) -> float | None:
    """Return the lower limit asked for, or none where nothing can pass it."""
    if arguments.kind == "visual":
        raise Refused.one(
            "a look has no capability index", value="visual", column="--kind", allowed="gauged kinds"
        )
    lower: float | None = arguments.lower
    if not _is_natural(arguments):
        return lower
    if arguments.upper is None:
        raise Refused.one(
            "a lower limit that nothing can pass is no tolerance limit, and no other is given",
            value=f"{lower:g}",
            column="--lower",
            allowed="an upper limit, with --upper",
        )
    return None


def natural_limit(arguments: argparse.Namespace, model: str) -> str:
    """Say what a natural limit of 0 does to the indices; empty where there is none."""
    magnitude = arguments.kind in MAGNITUDES
    what = arguments.kind.replace("_", " ").capitalize() if magnitude else f"The {model_words(model)} model"
    if magnitude and model == "normal":
        return (
            f"{what} cannot fall below 0, so the normal model fits it badly where the mean is within three "
            "standard deviations of 0."
        )
    if _is_natural(arguments):
        return (
            f"{what} cannot fall below 0: the lower limit is no tolerance limit, only the upper index counts."
        )
    return ""


def _is_natural(arguments: argparse.Namespace) -> bool:
    if arguments.lower is None or arguments.lower > 0.0:
        return False
    return arguments.kind in MAGNITUDES or arguments.model in _FROM_ZERO


def model_words(model: str) -> str:
    """Write a word of `--model` as a person does.

    Examples
    --------
    >>> model_words("half_normal"), model_words("rayleigh")
    ('half-normal', 'Rayleigh')
    """
    return _SPOKEN.get(model, model.replace("_", " "))
