"""The analysis of variance behind a gauge study, and each source of spread as a sum of mean squares."""

from dataclasses import dataclass

import numpy as np

from spc.errors import Refused
from spc.statistics.anova_line import AnovaLine, anova_line
from spc.statistics.gauge_layout import GaugeLayout
from spc.statistics.mean_square_intervals import MeanSquare

__all__ = ["GaugeAnova", "gauge_anova"]

Terms = dict[str, list[MeanSquare]]


@dataclass(frozen=True, slots=True)
class GaugeAnova:
    """The table and what each component is made of.

    Attributes
    ----------
    lines : tuple of AnovaLine
        part, appraiser, interaction, repeatability, total; with one appraiser part, repeatability, total.
    mean_squares : dict of str to list of MeanSquare
        Each source of spread as mean squares with factors.
    interaction_pooled : bool
        Whether the interaction went into repeatability.
    """

    lines: tuple[AnovaLine, ...]
    mean_squares: Terms
    interaction_pooled: bool


def gauge_anova(layout: GaugeLayout, pool_above: float) -> GaugeAnova:
    """Split the sum of squares of a crossed study, for `gauge_study`.

    Parameters
    ----------
    layout : GaugeLayout
        Complete and balanced.
    pool_above : float
        The interaction is pooled with repeatability where its p is above this.

    Returns
    -------
    GaugeAnova
        Sums of squares are taken around means of centred readings, so large sizes cost no digits.

    Raises
    ------
    Refused
        No reading was repeated differently: without any repeatability nothing can be tested.
    """
    values = layout.values - layout.values.mean()
    p, a, r = values.shape
    by_part, by_appraiser, by_cell = values.mean((1, 2)), values.mean((0, 2)), values.mean(2)
    repeats = anova_line("repeatability", p * a * (r - 1), float(np.sum((values - by_cell[:, :, None]) ** 2)))
    ss_part = a * r * float(np.sum(by_part**2))
    total = AnovaLine("total", p * a * r - 1, float(np.sum(values**2)))
    if not repeats.ss > 0.0:
        raise Refused.one(
            "every repeat gave the same reading, so the gauge's own spread cannot be seen",
            do="Read the gauge one digit finer, and gauge without knowing the reading before",
        )
    if a == 1:
        part = anova_line("part", p - 1, ss_part, repeats)
        return GaugeAnova((part, repeats, total), _single(part, repeats, r), False)
    crossed = r * float(np.sum((by_cell - by_part[:, None] - by_appraiser[None, :]) ** 2))
    interaction = anova_line("interaction", (p - 1) * (a - 1), crossed, repeats)
    pooled = interaction.p is not None and interaction.p > pool_above
    error = interaction
    if pooled:
        error = anova_line("repeatability", repeats.df + interaction.df, repeats.ss + interaction.ss)
    part = anova_line("part", p - 1, ss_part, error)
    appraiser = anova_line("appraiser", a - 1, p * r * float(np.sum(by_appraiser**2)), error)
    lines = (part, appraiser, interaction, repeats, total)
    if pooled:
        return GaugeAnova(lines, _pooled(part, appraiser, error, (p, a, r)), True)
    return GaugeAnova(lines, _kept(part, appraiser, interaction, repeats, (p, a, r)), False)


def _single(part: AnovaLine, repeats: AnovaLine, r: int) -> Terms:
    e = _term(repeats)
    spread = [_term(part, 1 / r), _term(repeats, -1 / r)]
    return {
        "repeatability": [e],
        "grr": [e],
        "part": spread,
        "total": [_term(part, 1 / r), _term(repeats, 1 - 1 / r)],
    }


def _pooled(part: AnovaLine, appraiser: AnovaLine, error: AnovaLine, sizes: tuple[int, int, int]) -> Terms:
    p, a, r = sizes
    people = [_term(appraiser, 1 / (p * r)), _term(error, -1 / (p * r))]
    return {
        "repeatability": [_term(error)],
        "appraiser": people,
        "reproducibility": people,
        "interaction": [MeanSquare(1.0, 0.0, 1)],
        "grr": [_term(appraiser, 1 / (p * r)), _term(error, 1 - 1 / (p * r))],
        "part": [_term(part, 1 / (a * r)), _term(error, -1 / (a * r))],
        "total": [
            _term(part, 1 / (a * r)),
            _term(appraiser, 1 / (p * r)),
            _term(error, 1 - 1 / (p * r) - 1 / (a * r)),
        ],
    }


def _kept(
    part: AnovaLine,
    appraiser: AnovaLine,
    interaction: AnovaLine,
    repeats: AnovaLine,
    sizes: tuple[int, int, int],
) -> Terms:
    p, a, r = sizes
    people, cross = 1 / (p * r), 1 / r
    return {
        "repeatability": [_term(repeats)],
        "appraiser": [_term(appraiser, people), _term(interaction, -people)],
        "reproducibility": [
            _term(appraiser, people),
            _term(interaction, cross - people),
            _term(repeats, -cross),
        ],
        "interaction": [_term(interaction, cross), _term(repeats, -cross)],
        "grr": [_term(appraiser, people), _term(interaction, cross - people), _term(repeats, 1 - cross)],
        "part": [_term(part, 1 / (a * r)), _term(interaction, -1 / (a * r))],
        "total": [
            _term(part, 1 / (a * r)),
            _term(appraiser, people),
            _term(interaction, cross - people - 1 / (a * r)),
            _term(repeats, 1 - cross),
        ],
    }


def _term(line: AnovaLine, factor: float = 1.0) -> MeanSquare:
    return MeanSquare(factor, line.ms or 0.0, line.df)
