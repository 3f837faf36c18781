"""The answer of `spc capability`: one object for another program, and the sentences that belong to it."""

import argparse
from collections.abc import Sequence
from dataclasses import fields
from math import isfinite
from typing import TYPE_CHECKING, Any

from spc.cli.capability_notes import model_words, natural_limit, without_natural_limit

if TYPE_CHECKING:
    from spc.statistics import Estimate, ModelCapability, Requirement
    from spc.statistics.normal_model import NormalQuantiles

__all__ = ["Subgroups", "capability_answer"]

Subgroups = Sequence[Sequence[float]]
_INDICES = ("cp", "cpk", "pp", "ppk", "cpm")


def capability_answer(
    subgroups: Subgroups, arguments: argparse.Namespace
) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Work out capability by the model that suits the pieces, for a person as for another program.

    Parameters
    ----------
    subgroups : sequence of sequences of float
        Readings in the unit of the limits, oldest first.
    arguments : argparse.Namespace
        What the command was asked; see `spc capability --help`.

    Returns
    -------
    dict
        The answer; an index that this tolerance does not have is null, one that the model does not have is
        left out.
    tuple of str
        What speaks against believing it, one sentence or two each.

    Raises
    ------
    Refused
        No limit, crossed limits, too few or equal readings, readings that the model cannot have.
    """
    lower = without_natural_limit(arguments)
    if sum(map(len, subgroups)) < 3 and arguments.model in ("auto", "normal"):
        return _of_two_pieces(subgroups, lower, arguments)

    from spc.statistics import model_capability

    found = model_capability(
        subgroups,
        lower,
        arguments.upper,
        arguments.target,
        kind=arguments.kind or "",
        model=arguments.model,
        confidence=arguments.confidence,
        sigma_from=arguments.sigma_from,
        minimum=arguments.minimum,
    )
    notes = (*found.warnings, _untested(found), natural_limit(arguments, found.model.name))
    said = tuple(each for each in notes if each)
    return _of_model(found, _spreads(subgroups, arguments.sigma_from), said), said


def _of_model(found: "ModelCapability", spreads: dict[str, float], said: tuple[str, ...]) -> dict[str, Any]:
    fallout, plain = found.percentiles.fallout_ppm, found.plain
    return {
        "n": found.n,
        "subgroups": found.subgroups,
        **spreads,
        "model": found.model.name,
        "quantiles": _quantiles((plain or found.percentiles).quantiles),
        **_indices(found),
        "fallout_ppm": fallout.estimate if plain is None else plain.fallout_ppm,
        "normality": _test(found.total_normality),
        "honest": _honest(found.honest),
        "warning": " ".join(said) or None,
        "why": found.why,
        "fit": _test(found.fit),
        "fallout_interval_ppm": _ends(fallout),
        "over_time": _over_time(found),
        "order": found.order.says or None if found.order is not None else None,
        "honest_first": found.honest_first,
        "words": found.words,
        "requirement": _requirement(found.requirement),
    }


def _of_two_pieces(
    subgroups: Subgroups, lower: float | None, arguments: argparse.Namespace
) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Answer for two pieces, which carry a mean and a spread but no test of anything."""
    from spc.statistics import capability, few_pieces, honest_capability, requirement

    asked = (lower, arguments.upper, arguments.target, arguments.confidence, arguments.sigma_from)
    plain, honest = capability(subgroups, *asked), honest_capability(subgroups, *asked)
    answer = None if arguments.minimum is None else requirement(plain.ppk, arguments.minimum, "Ppk")
    notes = (
        "Too few pieces to test the normal model: it is taken on trust.",
        plain.warning,
        few_pieces(plain.n, plain.subgroups),
        natural_limit(arguments, "normal"),
    )
    said = tuple(each for each in notes if each)
    return {
        "n": plain.n,
        "subgroups": plain.subgroups,
        **_spreads(subgroups, arguments.sigma_from),
        "model": "normal",
        "quantiles": _quantiles(plain.quantiles),
        **{name: _estimate(getattr(plain, name)) for name in _INDICES},
        "fallout_ppm": plain.fallout_ppm,
        "normality": _test(None),
        "honest": _honest(honest),
        "warning": " ".join(said),
        "why": "normal, because two pieces can tell no other model.",
        "fit": _test(None),
        "fallout_interval_ppm": None,
        "over_time": None,
        "order": None,
        "honest_first": False,
        "words": "performance",
        "requirement": _requirement(answer),
    }, said


def _spreads(subgroups: Subgroups, sigma_from: str) -> dict[str, float]:
    from spc.statistics import summarise_subgroups
    from spc.statistics.capability import spread_within

    summaries = summarise_subgroups(subgroups, chart="capability")
    return {
        "mean": summaries.mean,
        "sigma_within": spread_within(summaries, sigma_from).sigma,
        "sigma_overall": summaries.overall_sd,
    }


def _indices(found: "ModelCapability") -> dict[str, Any]:
    """Return the indices that the model has: a model that is not normal has none from the spread within checks."""
    if found.plain is not None:
        return {name: _estimate(getattr(found.plain, name)) for name in _INDICES}
    return {"pp": _estimate(found.percentiles.pp), "ppk": _estimate(found.percentiles.ppk), "cpm": None}


def _untested(found: "ModelCapability") -> str:
    if found.fit is None or found.fit.p is not None:
        return ""
    return f"Too few pieces to test the {model_words(found.model.name)} model: it is taken on trust."


def _quantiles(found: "NormalQuantiles") -> dict[str, float]:
    return {"q00135": found.q00135, "q50": found.q50, "q99865": found.q99865}


def _test(test: Any) -> dict[str, float | None]:
    """Return the statistic and p of a test of fit; null where there was none."""
    return {
        "anderson_darling": None if test is None else test.statistic,
        "p": None if test is None else test.p,
    }


def _honest(honest: Any) -> dict[str, Any]:
    if honest is None:
        method = "fewer than 5 checks cannot tell how much checks differ"
        return {"pp": None, "ppk": None, "method": method}
    return {
        each.name: _estimate(value) if each.name in (*_INDICES, "fallout") else value
        for each in fields(honest)
        for value in (getattr(honest, each.name),)
    }


def _over_time(found: "ModelCapability") -> dict[str, Any] | None:
    from spc.statistics.time_model_words import MEANINGS

    seen, without = found.over_time, found.without_trend
    if seen is None:
        return None
    means = MEANINGS[seen.model]
    if seen.model == "A1" and (found.plain is None or _contradicted(found)):
        means = "level and spread stand still"  # the row above says how the pieces lie
    return {
        "model": seen.model,
        "means": means,
        "location": seen.location,
        "spread": seen.spread,
        "words": seen.words,
        "reason": seen.reason,
        "without_slope": None
        if without is None
        else {"share_of_variance": without.trend_share, "ppk": _estimate(without.capability.ppk)},
    }


def _contradicted(found: "ModelCapability") -> bool:
    return found.fit is not None and found.fit.p is not None and found.fit.p < 0.05


def _requirement(answer: "Requirement | None") -> dict[str, Any] | None:
    if answer is None:
        return None
    return {
        "required": answer.required,
        "answer": answer.answer,
        "index": _estimate(answer.index),
        "pieces_needed": answer.pieces_needed,
        "says": answer.says,
    }


def _estimate(index: "Estimate | None") -> dict[str, float | None] | None:
    if index is None:
        return None
    return {"estimate": index.estimate if isfinite(index.estimate) else None, **_ends(index)}


def _ends(index: "Estimate") -> dict[str, float | None]:
    return {
        name: value if isfinite(value) else None for name, value in (("low", index.low), ("high", index.high))
    }
