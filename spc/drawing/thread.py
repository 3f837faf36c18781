"""For whoever gauges over wires: the part with its three wires, and one groove with its wire, to scale."""

import math
from dataclasses import dataclass
from itertools import pairwise

from spc.drawing.sketch import Point, Sketch, View, nearest_point
from spc.drawing.theme import theme
from spc.geometry import OverWires, Worm, WormOverWires, involute

__all__ = [
    "ThreadSection",
    "flank_line",
    "section_of_thread",
    "section_of_worm",
    "thread_drawing",
    "touching_mm",
]

_WIDTH_PX, _HEIGHT_PX, _PART_PX = 620, 390, 284
_TOP_PX = 8
_STEEP_DEG = 3.0
_STEPS = 12


@dataclass(frozen=True, slots=True)
class ThreadSection:
    """A thread or worm in the plane through its axis, with the wires as they lie.

    Attributes
    ----------
    pitch_mm, lead_mm : float
    over_wire_mm, wire_mm : float
        What the gauge shows, and the wires.
    middle_mm : float
        Pitch or reference diameter, drawn dashed.
    middle_says, thickness_says : str
        What the key says of it and of what is worked out.
    lead_angle_deg : float
    ridge : tuple of (radius, half the ridge along the axis)
        From the root outwards.
    """

    pitch_mm: float
    lead_mm: float
    over_wire_mm: float
    wire_mm: float
    middle_mm: float
    middle_says: str
    thickness_says: str
    lead_angle_deg: float
    ridge: tuple[tuple[float, float], ...]

    @property
    def centre_mm(self) -> float:
        """How far the wires' axes lie from the axis of the thread."""
        return (self.over_wire_mm - self.wire_mm) / 2


def section_of_thread(found: OverWires, pitch_mm: float, angle_deg: float, starts: int = 1) -> ThreadSection:
    """Lay out a symmetrical thread with straight flanks.

    Notes
    -----
    Crest and root stand 0.3 pitches from the pitch line, nearer where the flanks would meet before, or where the
    wire needs the room; common practice lies there, and it serves only the picture.
    """
    slope = math.tan(math.radians(angle_deg / 2))
    sharp, middle = pitch_mm / 4 / slope, found.pitch_diameter_mm / 2
    wire_bottom = found.over_wire_exact_mm / 2 - found.wire_mm
    high = min(0.75 * sharp, 0.3 * pitch_mm)
    root = max(min(middle - high, wire_bottom - 0.03 * sharp), middle - sharp)
    radii = _spaced(root, middle + high)
    return ThreadSection(
        pitch_mm,
        starts * pitch_mm,
        found.over_wire_exact_mm,
        found.wire_mm,
        found.pitch_diameter_mm,
        f"pitch diameter {found.pitch_diameter_mm:.4f} mm",
        f"half the pitch, {pitch_mm / 2:.4f} mm",
        found.lead_angle_deg,
        tuple((radius, pitch_mm / 4 - (radius - middle) * slope) for radius in radii),
    )


def section_of_worm(worm: Worm, found: WormOverWires) -> ThreadSection:
    """Lay out a worm; involute flanks are curved in this plane.

    Notes
    -----
    Crest one module above the reference diameter and root 1.2 modules below it, or where the wire needs the room;
    only for the picture. A point of an involute flank lies turned by inv(transverse angle) − inv(angle there)
    from the reference diameter, which is that share of the lead along the axis.
    """
    middle = worm.reference_diameter_mm / 2
    wire_bottom = found.over_wire_mm / 2 - found.wire_mm
    root = max(min(middle - 1.2 * worm.module_mm, wire_bottom - 0.03 * worm.module_mm), 0.05 * middle)
    half, ridge = found.axial_thickness_mm / 2, []
    for radius in _spaced(root, middle + worm.module_mm):
        wide = half + _off_reference(worm, radius)
        ridge.append((radius, min(max(wide, 0.0), worm.axial_pitch_mm / 2)))
    return ThreadSection(
        worm.axial_pitch_mm,
        worm.lead_mm,
        found.over_wire_mm,
        found.wire_mm,
        worm.reference_diameter_mm,
        f"reference diameter {worm.reference_diameter_mm:g} mm",
        f"thickness along the axis {found.axial_thickness_mm:.4f} mm",
        worm.lead_angle_deg,
        tuple(ridge),
    )


def thread_drawing(section: ThreadSection, theme_name: str) -> str:
    """Draw a thread or worm with its wires.

    Parameters
    ----------
    section : ThreadSection
        From `section_of_thread` or `section_of_worm`.
    theme_name : {"light", "dark"}

    Returns
    -------
    str
        SVG.
    """
    colours = theme(theme_name)
    about = f"a thread with three wires, {section.over_wire_mm:.4f} mm over the wires"
    sketch = Sketch(_WIDTH_PX, _HEIGHT_PX, colours, about)
    _part(sketch, section)
    _groove(sketch, section)
    below = _TOP_PX + _PART_PX + 22
    lines = [
        ("ring", colours.size, f"wire {section.wire_mm:.4f} mm"),
        ("dot", colours.adjust, "touches the flanks here"),
        ("line", colours.watch, section.thickness_says),
        ("dash", colours.quiet, section.middle_says),
    ]
    sketch.key(8, below, lines[:2])
    sketch.key(_WIDTH_PX / 2 - 20, below, lines[2:])
    said = "Section through the axis; crest and root drawn as usual."
    if section.lead_angle_deg > _STEEP_DEG:
        said = (
            "Section through the axis: wires lie slanted in the groove and touch in front of it and behind."
        )
    sketch.words(8, _HEIGHT_PX - 18, said, colour=colours.quiet)
    return sketch.svg()


def flank_line(section: ThreadSection) -> tuple[Point, ...]:
    """Return the flank right of the groove whose middle is at 0, from the root outwards: (along, radius)."""
    return tuple((section.pitch_mm / 2 - half, radius) for radius, half in section.ridge)


def touching_mm(section: ThreadSection) -> tuple[Point, Point]:
    """Return the points of both flanks nearest to the wire's axis."""
    along, radius = nearest_point((0.0, section.centre_mm), flank_line(section))
    return (-along, radius), (along, radius)


def profile(section: ThreadSection, first: int, last: int) -> list[Point]:
    """Return the outline over some grooves, the middle of groove 0 at 0."""
    flank, points = flank_line(section), []
    for groove in range(first, last + 1):
        middle = groove * section.pitch_mm
        points += [(middle - along, radius) for along, radius in reversed(flank)]
        points += [(middle + along, radius) for along, radius in flank]
    return points


def _part(sketch: Sketch, section: ThreadSection) -> None:
    """Draw a stretch of the part between the anvils: one wire above, two below."""
    colours, half = sketch.colours, section.over_wire_mm / 2
    scale = min(_PART_PX * 0.41 / half, 290 / (3.2 * section.pitch_mm))
    shown = 290 / scale
    view = View(0, _TOP_PX, 290, _PART_PX, (-0.09 * shown, 0.0), scale)
    many = math.ceil(shown / section.pitch_mm / 2) + 2
    above = profile(section, -many, many)
    shift = (section.lead_mm / 2) % section.pitch_mm
    below = [(along + shift, -radius) for along, radius in above]
    left = -0.36 * shown
    body = [(x, y) for x, y in above if x >= left], [(x, y) for x, y in below if x >= left]
    sketch.stroke(view, [*body[0], *reversed(body[1])], colours.quiet, 1.2, fill=colours.plate)
    sketch.stroke(view, [(left, 0.0), (shown, 0.0)], colours.quiet, 1.0, dash="12 4 2 4")
    for end in (half, -half):
        sketch.stroke(view, [(-0.55 * shown, end), (0.3 * shown, end)], colours.ink, 1.4)
    beside = shift if shift > 1e-6 * section.pitch_mm else section.pitch_mm
    for along, side in ((0.0, 1.0), (beside, -1.0), (beside - _apart(section, shift), -1.0)):
        _wire(sketch, view, section, (along, side * section.centre_mm), 1.8)
    sketch.upright(view, -0.52 * shown, -half, half, f"{section.over_wire_mm:.4f} mm over the wires")


def _apart(section: ThreadSection, shift: float) -> float:
    """Distance of the two lower wires: neighbours, or two grooves where one lies right below the upper wire."""
    return section.pitch_mm * (1 if shift > 1e-6 * section.pitch_mm else 2)


def _groove(sketch: Sketch, section: ThreadSection) -> None:
    """Draw one groove with its wire."""
    colours, crest, root = sketch.colours, section.ridge[-1][0], section.ridge[0][0]
    upper = max(section.centre_mm + section.wire_mm / 2, crest) + 0.12 * section.pitch_mm
    lower = root - 0.3 * section.pitch_mm
    scale = min(_PART_PX / (upper - lower), 306 / (2.1 * section.pitch_mm))
    view = View(314, _TOP_PX, 306, _PART_PX, (0.3 * section.pitch_mm, (upper + lower) / 2), scale)
    line = profile(section, -2, 2)
    bottom = root - 3 * section.pitch_mm
    sketch.stroke(
        view, [(line[0][0], bottom), *line, (line[-1][0], bottom)], colours.quiet, 1.6, fill=colours.plate
    )
    middle, far = section.middle_mm / 2, 4 * section.pitch_mm
    sketch.stroke(view, [(-far, middle), (far, middle)], colours.quiet, 1.2, dash="5 4")
    _wire(sketch, view, section, (0.0, section.centre_mm), 2.2)
    half = _half_ridge(section, middle)
    ridge = section.pitch_mm / 2
    sketch.stroke(view, [(ridge - half, middle), (ridge + half, middle)], colours.watch, 4.0)
    for point in touching_mm(section):
        sketch.dot(view, point, colours.adjust)


def _wire(sketch: Sketch, view: View, section: ThreadSection, at: Point, width_px: float) -> None:
    """Draw a wire where the plane through the axis cuts it: slanted by the lead angle it is cut aslant."""
    stretch = 1 / math.cos(math.radians(section.lead_angle_deg))
    sketch.ellipse(
        view,
        at,
        section.wire_mm / 2,
        sketch.colours.size,
        width_px,
        stretch=stretch,
        fill=sketch.colours.ground,
    )


def _half_ridge(section: ThreadSection, radius: float) -> float:
    """Half the ridge along the axis at a radius."""
    for (low, wide), (high, narrow) in pairwise(section.ridge):
        if low <= radius <= high:
            return wide + (narrow - wide) * (radius - low) / (high - low)
    return section.ridge[-1][1]


def _off_reference(worm: Worm, radius: float) -> float:
    """How much wider half a worm's thread is at a radius than at the reference diameter."""
    middle = worm.reference_diameter_mm / 2
    if worm.flanks == "ZA":
        return (middle - radius) * math.tan(math.radians(worm.pressure_angle_deg))
    lead_angle, normal = math.radians(worm.lead_angle_deg), math.radians(worm.normal_angle_deg)
    transverse = math.atan(math.tan(normal) / math.sin(lead_angle))
    base = middle * math.cos(transverse)
    there = math.acos(min(base / radius, 1.0))
    return worm.lead_mm / (2 * math.pi) * (involute(transverse) - involute(there))


def _spaced(low: float, high: float) -> list[float]:
    return [low + (high - low) * step / _STEPS for step in range(_STEPS + 1)]
