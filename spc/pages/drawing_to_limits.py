"""From the drawing to the limits: what lies behind a size over pins, wires or balls, and what the slide does to it."""

import streamlit as st

from spc.pages.tell import table, told
from spc.pages.words import plain
from spc.shop import Characteristic, FormGeometry, GainGuess, GaugedSize, Machine, Plan

__all__ = ["drawing_to_limits"]

_CLOSE_SHARE = 0.1
"""So far from the best pin its choice begins to matter; common practice, no source."""


def drawing_to_limits(plan: Plan, machine_id: str) -> None:
    """Explain, for every size whose geometry the plan names, how the drawing became limits at the gauge.

    Parameters
    ----------
    plan : Plan
    machine_id : str
        Its slides say what a micrometre of display is.
    """
    known = [(each, each.geometry) for each in plan.gauged if each.geometry is not None]
    told_of = [(each, form) for each, form in known if form.size_name or form.limits_from or form.gain]
    if not told_of:
        return
    st.header("From the drawing to the limits")
    for each, form in told_of:
        st.write(f"**{plain(each.name)}**")
        if form.size_name:
            _sizes(form)
        told(_facts(each, form, plan.machine(machine_id)))


def _sizes(form: FormGeometry) -> None:
    named = (("Upper limit", form.at_upper), ("Aim", form.at_aim), ("Lower limit", form.at_lower))
    name = form.size_name[:1].upper() + form.size_name[1:]
    rows = [[what, f"{at.size_mm:.4f} mm", f"{at.gauge_mm:.4f} mm"] for what, at in named if at is not None]
    table(["", name, f"Over {form.element_mm:g} mm {form.element}s"], rows)


def _facts(each: Characteristic, form: FormGeometry, machine: Machine) -> list[tuple[str, str]]:
    facts = [("Limits", _limits_from(form))]
    at = form.at_aim or form.at_upper or form.at_lower
    if form.size_name and at is not None:
        facts += [
            (f"{form.element.capitalize()}s", _element(form, at)),
            (f"10 µm of {form.size_name}", _factor(form, at)),
        ]
    gain = _gain(each)
    if gain is not None:
        facts.append(("Slide 1 µm deeper", _slide(*gain, machine, form)))
    if form.notes:
        facts.append(("How it is known", "; ".join(form.notes)))
    return facts


def _limits_from(form: FormGeometry) -> str:
    if not form.limits_from:
        behind = f"; the {form.size_name} is worked out from them" if form.size_name else ""
        return f"the plan gives those of the gauge{behind}"
    return f"from {form.limits_from}" + (
        "" if form.limits_from == form.size_name or not form.size_name else f", for the {form.size_name}"
    )


def _element(form: FormGeometry, at: GaugedSize) -> str:
    """Say which pins are used, and whether they touch where they should."""
    used, best = form.element_mm or 0.0, form.best_element_mm
    touching = "" if at.contact_diameter_mm is None else f" They touch at {at.contact_diameter_mm:.3f} mm."
    if best is None:
        return f"{used:g} mm.{touching}"
    off = used - best
    if abs(off) < 0.0005:
        return f"{used:g} mm, the best {form.element}.{touching}"
    way = "thicker" if off > 0 else "thinner"
    says = (
        f"{used:g} mm, {abs(off):.3f} mm {way} than the best one, {best:.3f} mm, which touches in mid-flank."
    )
    if abs(off) > _CLOSE_SHARE * best:
        says += " That is a long way off: errors of the flank count for more in the reading."
    return says + touching


def _factor(form: FormGeometry, at: GaugedSize) -> str:
    factor = at.change_factor
    return f"show as {10 * factor:.1f} µm over the {form.element}s (change factor {factor:.3f})"


def _gain(each: Characteristic) -> tuple[float, GainGuess | None] | None:
    """Return the gain the station starts with where the slide sets the size, and the guess where it comes from one."""
    if not each.is_set_by_slide:
        return None
    guess = None if each.geometry is None else each.geometry.gain
    if each.penetration_gain is not None:
        return each.penetration_gain, None
    return None if guess is None else (guess.gain, guess)


def _slide(gain: float, guess: GainGuess | None, machine: Machine, form: FormGeometry) -> str:
    sides = 2.0 if machine.slides == "two" else 1.0
    does = "takes off" if gain > 0 else "adds"
    says = f"{does} {abs(gain) * sides:.2f} µm"
    if sides == 2.0:
        says += " with both slides"
    if guess is None:
        rigid = form.gain
        other = "" if rigid is None else f"; the geometry alone gives {abs(rigid.gain) * sides:.2f} µm"
        return f"{says}: the plan says so{other}. Slide moves on record teach it better."
    off = abs(guess.gain) * sides * guess.share_sd
    return (
        f"{says}, give or take {off:.2f}: {guess.says}. "
        "Spring of the machine takes some of it; slide moves on record teach it better."
    )
