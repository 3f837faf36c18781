"""For whoever gauges over pins: the part with its two pins, and one space with its pin, to scale."""

import math
from dataclasses import dataclass

from spc.drawing.sketch import Point, Sketch, View, nearest_point
from spc.drawing.theme import theme
from spc.geometry import InvoluteTeeth, OverPins

__all__ = ["ToothShape", "outline", "pin_centres", "tooth_drawing", "tooth_shape"]

_WIDTH_PX, _HEIGHT_PX, _PART_PX = 620, 390, 284
_TOP_PX = 8


@dataclass(frozen=True, slots=True)
class ToothShape:
    """One tooth across the axis, as it is drawn.

    Attributes
    ----------
    tip_mm, root_mm : float
        Radii.
    is_assumed : bool
        Whether tip or root was not given and is drawn as usual.
    flank : tuple of (radius, half angle)
        From the root outwards; the half angle of the tooth in radians.
    """

    tip_mm: float
    root_mm: float
    is_assumed: bool
    flank: tuple[tuple[float, float], ...]


def tooth_drawing(teeth: InvoluteTeeth, found: OverPins, theme_name: str) -> str:
    """Draw external teeth with their pins.

    Parameters
    ----------
    teeth : InvoluteTeeth
    found : OverPins
        From `over_pins` or `thickness_from_over_pins`.
    theme_name : {"light", "dark"}

    Returns
    -------
    str
        SVG. Helical teeth are shown in the section across the axis, through the middle of the balls.
    """
    colours = theme(theme_name)
    about = f"{teeth.teeth} teeth with two pins, {found.over_pin_mm:.4f} mm over the pins"
    sketch = Sketch(_WIDTH_PX, _HEIGHT_PX, colours, about)
    shape = tooth_shape(teeth, found)
    _part(sketch, teeth, found, shape)
    _space(sketch, teeth, found, shape)
    lines = [
        ("ring", colours.size, f"pin {found.pin_mm:g} mm"),
        ("dot", colours.adjust, f"touches on ⌀ {found.contact_diameter_mm:.3f} mm"),
        ("line", colours.watch, f"tooth thickness {found.tooth_thickness_mm:.4f} mm"),
        ("dash", colours.quiet, f"reference circle ⌀ {teeth.reference_diameter_mm:.3f} mm"),
    ]
    sketch.key(8, _TOP_PX + _PART_PX + 22, lines[:2])
    sketch.key(_WIDTH_PX / 2 - 20, _TOP_PX + _PART_PX + 22, lines[2:])
    said = ["tip and root are not given: drawn as usual"] if shape.is_assumed else []
    said += ["teeth in the section across the axis"] if teeth.helix_angle_deg else []
    if said:
        sketch.words(8, _HEIGHT_PX - 18, "; ".join(said).capitalize() + ".", colour=colours.quiet)
    return sketch.svg()


def tooth_shape(teeth: InvoluteTeeth, found: OverPins, steps: int = 16) -> ToothShape:
    """Lay the flank out between root and tip, pointed teeth cut where they end.

    Notes
    -----
    Where the drawing gives none, tip and root are those of flat-root 30° splines (0.5 and 0.7 modules off the
    reference circle) from 28° on, else of gears (1 and 1.25 modules); common practice, only for the picture.
    """
    up, down = (0.5, 0.7) if teeth.pressure_angle_deg >= 28.0 else (1.0, 1.25)
    reference, base = teeth.reference_diameter_mm / 2, teeth.base_diameter_mm / 2
    tip, root = teeth.tip_diameter_mm, teeth.root_diameter_mm
    centre = pin_centre_radius_mm(teeth, found)
    outer = max(reference + up * teeth.module_mm, found.contact_diameter_mm / 2 * 1.001)
    inner = min(reference - down * teeth.module_mm, centre - found.pin_mm / 2 * 1.02)
    outer, inner = (outer if tip is None else tip / 2), (max(inner, 0.0) if root is None else root / 2)
    outer = _pointed(teeth, found, max(base, inner), outer)
    radii = [max(base, inner) + (outer - max(base, inner)) * step / steps for step in range(steps + 1)]
    most = math.pi / teeth.teeth
    flank = [(radius, min(_half_angle(teeth, found, radius), most)) for radius in radii]
    if inner < base:
        flank.insert(0, (inner, flank[0][1]))
    return ToothShape(outer, inner, tip is None or root is None, tuple(flank))


def outline(
    teeth: InvoluteTeeth, shape: ToothShape, middle_rad: float, before: int, after: int
) -> list[Point]:
    """Return teeth side by side as one line, clockwise; the space left of tooth 0 lies at `middle_rad`."""
    pitch = 2 * math.pi / teeth.teeth
    points: list[Point] = []
    for tooth in range(-before, after):
        middle = middle_rad - (tooth + 0.5) * pitch
        rising = [_polar(radius, middle + half) for radius, half in shape.flank]
        falling = [_polar(radius, middle - half) for radius, half in reversed(shape.flank)]
        points += rising + falling
    return points


def pin_centre_radius_mm(teeth: InvoluteTeeth, found: OverPins) -> float:
    """Return how far the pins' centres lie from the axis."""
    return (found.over_pin_mm - found.pin_mm) / teeth.opposite_share / 2


def pin_centres(teeth: InvoluteTeeth, found: OverPins) -> tuple[Point, Point]:
    """Return the centres of the two pins; the gauge lies upright, so for an odd count both lie aside."""
    radius = pin_centre_radius_mm(teeth, found)
    angle = math.pi / 2 - (math.pi / (2 * teeth.teeth) if teeth.teeth % 2 else 0.0)
    x, y = _polar(radius, angle)
    return (x, y), (x, -y)


def _part(sketch: Sketch, teeth: InvoluteTeeth, found: OverPins, shape: ToothShape) -> None:
    """Draw the whole part between the anvils, with the size over the pins."""
    colours, half = sketch.colours, found.over_pin_mm / 2
    view = View(0, _TOP_PX, 290, _PART_PX, (-0.14 * half, 0.0), 0.41 * 290 / max(half, shape.tip_mm))
    first, second = pin_centres(teeth, found)
    middle = math.atan2(first[1], first[0])
    whole = outline(teeth, _coarse(shape), middle, 0, teeth.teeth)
    sketch.stroke(view, [*whole, whole[0]], colours.quiet, 1.2, fill=colours.plate)
    sketch.ellipse(view, (0.0, 0.0), teeth.reference_diameter_mm / 2, colours.quiet, 1.0, dash="5 4")
    for end in (half, -half):
        sketch.stroke(view, [(-1.22 * half, end), (0.6 * half, end)], colours.ink, 1.4)
    for centre in (first, second):
        sketch.ellipse(view, centre, found.pin_mm / 2, colours.size, 1.8, fill=colours.ground)
    sketch.upright(view, -1.15 * half, -half, half, f"{found.over_pin_mm:.4f} mm over the pins")


def _space(sketch: Sketch, teeth: InvoluteTeeth, found: OverPins, shape: ToothShape) -> None:
    """Draw one space with its pin, where that touches, and the thickness of the tooth beside."""
    colours, radius = sketch.colours, pin_centre_radius_mm(teeth, found)
    upper = max(radius + found.pin_mm / 2, shape.tip_mm) + 0.25 * teeth.module_mm
    lower = shape.root_mm - 0.5 * teeth.module_mm
    wide = 2.6 * math.pi * teeth.module_mm / math.cos(math.radians(teeth.helix_angle_deg))
    scale = min(_PART_PX / (upper - lower), 300 / wide)
    view = View(314, _TOP_PX, 306, _PART_PX, (0.16 * wide, (upper + lower) / 2), scale)
    around = min(3, teeth.teeth // 2)
    line = outline(teeth, shape, math.pi / 2, around, around)
    deep = max(lower - 2 * teeth.module_mm, 0.0)
    sketch.stroke(
        view, [(line[0][0], deep), *line, (line[-1][0], deep)], colours.quiet, 1.6, fill=colours.plate
    )
    sketch.ellipse(view, (0.0, 0.0), teeth.reference_diameter_mm / 2, colours.quiet, 1.2, dash="5 4")
    sketch.ellipse(view, (0.0, radius), found.pin_mm / 2, colours.size, 2.2, fill=colours.ground)
    sketch.stroke(view, _thickness(teeth, found), colours.watch, 4.0)
    for point in touching_points(teeth, shape, radius):
        sketch.dot(view, point, colours.adjust)


def touching_points(teeth: InvoluteTeeth, shape: ToothShape, radius_mm: float) -> tuple[Point, Point]:
    """Return where the pin of the upright space touches its two flanks."""
    pitch = 2 * math.pi / teeth.teeth
    right = [_polar(radius, math.pi / 2 - pitch / 2 + half) for radius, half in shape.flank]
    x, y = nearest_point((0.0, radius_mm), right)
    return (-x, y), (x, y)


def _thickness(teeth: InvoluteTeeth, found: OverPins) -> list[Point]:
    """Return the arc that the tooth right of the upright space cuts out of the reference circle."""
    radius = teeth.reference_diameter_mm / 2
    half = _half_angle(teeth, found, radius)
    middle = math.pi / 2 - math.pi / teeth.teeth
    return [_polar(radius, middle + half * (1 - step / 5)) for step in range(11)]


def _half_angle(teeth: InvoluteTeeth, found: OverPins, radius: float) -> float:
    return teeth.thickness_at_mm(2 * radius, found.tooth_thickness_mm) / (2 * radius)


def _pointed(teeth: InvoluteTeeth, found: OverPins, low: float, high: float) -> float:
    """Return the tip, or where the tooth is pointed below it."""
    if _half_angle(teeth, found, high) >= 0.0:
        return high
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if _half_angle(teeth, found, middle) > 0.0 else (low, middle)
    return low


def _coarse(shape: ToothShape) -> ToothShape:
    """Return a flank of few points, for a tooth that is drawn small."""
    few = (*shape.flank[::5][:-1], shape.flank[-1])
    return ToothShape(shape.tip_mm, shape.root_mm, shape.is_assumed, few)


def _polar(radius: float, angle: float) -> Point:
    return radius * math.cos(angle), radius * math.sin(angle)
