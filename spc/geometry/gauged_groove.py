"""Ball grooves as a plan names them: from the ball circle to the size over balls, and back."""

import math

from spc.errors import Refused
from spc.geometry.ball_groove import BallGroove, over_balls
from spc.geometry.nominal_lead import nominal_lead
from spc.geometry.trace import checked_trace
from spc.shop.form_geometry import FormGeometry, GaugedSize, GrooveForm

__all__ = ["groove_from_gauge", "groove_on_gauge", "refuse_no_groove"]


def groove_on_gauge(geometry: FormGeometry, circle_mm: float) -> GaugedSize:
    """Work out the size over two balls whose centres lie on a circle of this diameter.

    Raises
    ------
    Refused
        The ball touches no flank, or there is no groove around the axis.

    Notes
    -----
    The size is the circle and one ball; an odd count of straight grooves is gauged over the most opposite ones,
    which takes cos(90°/z) off the circle. Own derivation.

    Examples
    --------
    >>> groove = FormGeometry("groove", groove=GrooveForm(ball_mm=3.5, lead_mm=5.0, grooves=1))
    >>> groove_on_gauge(groove, 30.0).gauge_mm
    33.5
    """
    form = geometry.groove or GrooveForm()
    ball, share = form.ball_mm or 0.0, _share(form)
    if not ball < circle_mm < math.inf:
        raise Refused.one(
            "balls of this size leave no part between them",
            value=f"{circle_mm:g} mm",
            column="ball circle",
            allowed=f"above {ball:g} mm",
        )
    _touching(form, circle_mm)
    return GaugedSize(circle_mm * share + ball, circle_mm, share, share)


def groove_from_gauge(geometry: FormGeometry, gauge_mm: float) -> GaugedSize:
    """Work out the circle of the balls' centres behind a reading over two balls.

    Raises
    ------
    Refused
        As `groove_on_gauge`.

    Examples
    --------
    >>> groove = FormGeometry("groove", groove=GrooveForm(ball_mm=3.5, grooves=2))
    >>> groove_from_gauge(groove, 33.5).size_mm
    30.0
    """
    form = geometry.groove or GrooveForm()
    return groove_on_gauge(geometry, (gauge_mm - (form.ball_mm or 0.0)) / _share(form))


def refuse_no_groove(form: GrooveForm) -> None:
    """Refuse tables of lead and depth that no groove can follow.

    Raises
    ------
    Refused
        Positions that do not rise, fewer than two rows, a lead of 0 or less; `column` names the table.
    """
    tables = (("nominal lead", form.nominal_lead), ("nominal depth", form.nominal_depth))
    for name, rows in tables:
        if not rows:
            continue
        positions, values = [row[0] for row in rows], [row[1] for row in rows]
        try:
            if name == "nominal lead":
                nominal_lead(positions, values)
            else:
                checked_trace(positions, values, "table of nominal depths")
        except Refused as refused:
            first = refused.refusals[0]
            raise Refused.one(first.reason, value=first.value, column=name, allowed=first.allowed) from None


def _share(form: GrooveForm) -> float:
    is_straight_and_odd = _lead_mm(form) is None and form.grooves % 2 == 1
    return math.cos(math.pi / (2 * form.grooves)) if is_straight_and_odd else 1.0


def _lead_mm(form: GrooveForm) -> float | None:
    """Return the lead, that of the table's first row where it changes along the part; None for straight grooves."""
    first = form.nominal_lead[0][1] if form.nominal_lead else None
    return first if form.lead_mm is None else form.lead_mm


def _touching(form: GrooveForm, circle_mm: float) -> None:
    """Refuse a section that the ball cannot rest in, where the plan gives it."""
    radius, ball = form.arc_radius_mm, form.ball_mm or 0.0
    if radius is None:
        return
    apart = radius - ball / 2
    angle = math.radians(form.contact_angle_deg or 0.0)
    if apart <= 0.0:
        raise Refused.one(
            "this ball touches no flank of the groove: it would ride on the edges",
            value=f"{ball:g} mm",
            column="ball",
            allowed=f"above 0 and below {2 * radius:.3f} mm",
        )
    centres = circle_mm + 2 * apart * math.cos(angle)
    over_balls(BallGroove(radius, apart * math.sin(angle), centres, _lead_mm(form), form.grooves), ball)
