"""The table of `spc gauge-study` for a person, ending in one sentence of meaning."""

from spc.cli.figures import decimals_for, fixed
from spc.cli.saying import say, say_rows
from spc.statistics import AverageRangeStudy, GaugeComponent, GaugeStudy

__all__ = ["meaning", "tell"]

_NAMES = {
    "repeatability": "repeats of one person",
    "appraiser": "people",
    "interaction": "people and parts together",
    "grr": "gauge in use, all of these",
    "part": "parts",
    "total": "all",
}


def tell(study: GaugeStudy, by_ranges: AverageRangeStudy | None, file: str) -> None:
    """Say a gauge study on stdout."""
    people = f"{study.appraisers} appraiser{'' if study.appraisers == 1 else 's'}"
    say(f"Gauge study of {file}: {study.parts} parts, {people}, {study.trials} trials")
    say()
    for line in _lines(study):
        say(line)
    say()
    say_rows(_rows(study, by_ranges))
    say()
    say(meaning(study))


def _lines(study: GaugeStudy) -> list[str]:
    """Return one line a source of spread."""
    grr = study.component("grr")
    digits = decimals_for(grr.sigma if grr else 0.0)
    level = f"{100 * study.level:g} % interval"
    head = f"{'where the spread comes from':<28} {'σ':>10}   {level:<22} {'% of all':>9}"
    names = [name for name in _NAMES if not (study.interaction_pooled and name == "interaction")]
    shown = [(name, part) for name in names if (part := study.component(name)) is not None]
    lines = [head + (f" {'% of tolerance':>15}" if study.tolerance is not None else "")]
    return lines + [_line(_NAMES[name], part, digits) for name, part in shown]


def _line(name: str, part: GaugeComponent, digits: int) -> str:
    interval = f"{fixed(part.low, digits)} to {fixed(part.high, digits)}"
    line = f"{name:<28} {fixed(part.sigma, digits):>10}   {interval:<22} {part.percent_of_total:>9.1f}"
    if part.percent_of_tolerance is not None:
        line += f" {part.percent_of_tolerance:>15.1f}"
    return line.rstrip()


def _rows(study: GaugeStudy, by_ranges: AverageRangeStudy | None) -> list[tuple[str, str]]:
    rows = [("computed by", study.method)]
    interaction = next((line for line in study.anova if line.source == "interaction"), None)
    if interaction is not None and interaction.p is not None:
        rows.append(("people and parts together", f"p = {interaction.p:.3f}"))
    if by_ranges is not None:
        digits = decimals_for(by_ranges.grr)
        share = by_ranges.percent_of_total["grr"]
        rows.append(
            ("by averages and ranges", f"gauge σ {fixed(by_ranges.grr, digits)}, {share:.1f} % of all")
        )
    rows.append(("sizes told apart", f"{study.ndc} ({study.ndc_exact:.2f})"))
    return rows


def meaning(study: GaugeStudy) -> str:
    """Say in one sentence what the study comes to.

    Notes
    -----
    Under 10 % good, over 30 % too much, at least 5 sizes: AIAG Measurement Systems Analysis, 4th ed. (from memory).
    """
    grr = study.component("grr")
    percent = 0.0 if grr is None else grr.percent_of_total
    of = "the spread seen"
    if grr is not None and grr.percent_of_tolerance is not None and grr.percent_of_tolerance > percent:
        percent, of = grr.percent_of_tolerance, "the tolerance"
    said = f"The gauge in use takes {percent:.1f} % of {of} and tells {study.ndc} sizes apart: "
    if percent > 30.0:
        return said + f"too coarse for this part; {_first_look(study)}."
    if percent > 10.0 or study.ndc < 5:
        return said + f"good enough for some uses only; {_first_look(study)}."
    return said + "fit for this part."


def _first_look(study: GaugeStudy) -> str:
    repeats, people = study.component("repeatability"), study.component("reproducibility")
    if repeats is not None and people is not None and people.sigma > repeats.sigma:
        return "look first at how the people differ in using it"
    return "look first at the gauge itself and how the piece is held"
