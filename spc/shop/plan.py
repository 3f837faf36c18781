"""The inspection plan of one part: what is checked, how often, on which machines, against which limits."""

from dataclasses import dataclass, field
from decimal import Decimal

from spc.shop.costs import Costs
from spc.shop.form_geometry import FormGeometry
from spc.shop.layouts import Display, Kind
from spc.shop.limits import ControlLimits, ToleranceLimits
from spc.shop.trace import TraceRule

__all__ = ["Characteristic", "CheckRule", "Machine", "Plan"]


@dataclass(frozen=True, slots=True)
class Machine:
    """One rolling machine and the habits of its slide.

    Attributes
    ----------
    slide_step_mm : Decimal
        The smallest move the panel takes.
    slides : {"one", "two"}
        With two opposed slides the centre distance moves by twice the display.
    display : {"deeper_is_larger", "deeper_is_smaller"}
        How the panel counts; files and records always count deeper as larger.
    largest_move_mm : Decimal or None
        No single advice goes further.
    """

    id: str
    slide_step_mm: Decimal = Decimal("0.001")
    slides: str = "one"
    display: Display = "deeper_is_larger"
    largest_move_mm: Decimal | None = None

    def shown_setting_mm(self, setting_mm: Decimal) -> Decimal:
        """Turn a recorded setting (deeper is larger) into what stands on the panel, and back."""
        return -setting_mm if self.display == "deeper_is_smaller" else setting_mm


@dataclass(frozen=True, slots=True)
class CheckRule:
    """When and how much to gauge."""

    subgroup_size: int = 5
    interval_minutes: float | None = 60.0
    interval_pieces: int | None = None

    def pieces_between(self, pace_per_hour: float | None) -> int | None:
        """Pieces from check to check: the plan's count, or what its time makes at a pace, whichever comes first.

        Examples
        --------
        >>> CheckRule(interval_minutes=60.0, interval_pieces=200).pieces_between(300.0)
        200
        """
        by_time = None
        if self.interval_minutes is not None and pace_per_hour is not None:
            by_time = max(round(self.interval_minutes * pace_per_hour / 60.0), 1)
        counts = [each for each in (self.interval_pieces, by_time) if each is not None]
        return min(counts, default=None)


_UM_PER_UNIT = {"mm": 1000.0, "um": 1.0, "in": 25400.0, "deg": 1000.0, "": 1.0}


@dataclass(frozen=True, slots=True)
class Characteristic:
    """One thing that is gauged or looked at.

    Attributes
    ----------
    kind : str
        One of `layouts.KINDS`; it settles what may be computed.
    unit : {"mm", "um", "in", "deg"}
        Of every number below, and of readings that name none; "" for a visual look.
    nominal : Decimal
    tolerance : ToleranceLimits
    target : Decimal or None
        What the setter aims at, as written.
    set_by : str
        Which setting moves it: penetration, tilt, blade, phase, dwell or none.
    penetration_gain : float or None
        Unit of size smaller per mm of slide deeper, in mm per mm; a first guess. None: that of `geometry`.
    judged_by : {"fixed", "with_die_wear"}
        Whether its limits follow the die.
    wears_with_die : bool
        Whether it counts for the life of the die set.
    subgroup_size : int
    at : tuple of str
        When it is due; ("every",) means at each check.
    later : bool
        Its result may come after the check was saved.
    answers : tuple of str
        Words of a visual look; the first, "ok", is the good one.
    piece_value : {"mean", "largest", "smallest"}
        What several positions on one piece amount to.
    master_size : Decimal or None
        Certified size of the setting master, in `unit`; else nominal.
    length : Decimal or None
        Length that grows with temperature where the value is a deviation, in `unit`.
    expansion_per_k : float or None
        Linear expansion of the part per kelvin; None: nothing is brought to 20 °C.
    master_expansion_per_k : float or None
        Of the setting master; None: the same steel as the part.
    master_as_warm_as_part : bool
        The master lies beside the parts: one temperature known is both.
    geometry : FormGeometry or None
        What the gauge touches, and what was worked out from it when the plan was taken in.
    trace : TraceRule or None
        How its value is read from a trace; None where none gives it.
    signed : ControlLimits or None
        Limits that the plan itself carries.
    line : int
        Where the plan begins this table, for messages.
    aim : Decimal
        The target, else the middle of the tolerance, else the nominal; worked out, never given.
    um_per_unit : float
        Micrometres in one `unit`; angles count in thousandths of a degree; worked out, never given.
    tolerance_um : float
        Width of the tolerance, twice the distance from aim to limit where one side is open; worked out.
    low_um, high_um : float or None
        Limits of the tolerance minus `aim`; worked out.
    is_set_by_slide : bool
        Whether moving the slide moves it; worked out.
    """

    name: str
    kind: Kind
    unit: str
    nominal: Decimal
    tolerance: ToleranceLimits
    target: Decimal | None = None
    set_by: str = "none"
    penetration_gain: float | None = None
    judged_by: str = "fixed"
    minimum_cpk: float | None = None
    wears_with_die: bool = False
    subgroup_size: int = 5
    at: tuple[str, ...] = ("every",)
    later: bool = False
    answers: tuple[str, ...] = ()
    piece_value: str = "mean"
    positions: tuple[str, ...] = ()
    master_size: Decimal | None = None
    length: Decimal | None = None
    expansion_per_k: float | None = None
    master_expansion_per_k: float | None = None
    master_as_warm_as_part: bool = False
    form: str = ""
    geometry: FormGeometry | None = None
    trace: TraceRule | None = None
    signed: ControlLimits | None = None
    line: int = 0
    aim: Decimal = field(init=False, repr=False, compare=False)
    um_per_unit: float = field(init=False, repr=False, compare=False)
    tolerance_um: float = field(init=False, repr=False, compare=False)
    low_um: float | None = field(init=False, repr=False, compare=False)
    high_um: float | None = field(init=False, repr=False, compare=False)
    is_set_by_slide: bool = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out once what every check asks dozens of times."""
        object.__setattr__(self, "aim", self._aim())
        object.__setattr__(self, "um_per_unit", _UM_PER_UNIT[self.unit])
        object.__setattr__(self, "tolerance_um", self._tolerance_um())
        object.__setattr__(self, "low_um", self._from_aim_um(self.tolerance.lower))
        object.__setattr__(self, "high_um", self._from_aim_um(self.tolerance.upper))
        object.__setattr__(self, "is_set_by_slide", self.set_by == "penetration")

    @property
    def is_visual(self) -> bool:
        """Whether it is looked at, not gauged."""
        return self.kind == "visual"

    def _tolerance_um(self) -> float:
        width = self.tolerance.width
        if width is None:
            limit = self.tolerance.upper if self.tolerance.upper is not None else self.tolerance.lower
            width = 2 * abs((limit if limit is not None else self.nominal) - self.aim)
        return max(float(width) * self.um_per_unit, 1.0)

    def _from_aim_um(self, limit: Decimal | None) -> float | None:
        return None if limit is None else float(limit - self.aim) * self.um_per_unit

    def _aim(self) -> Decimal:
        if self.target is not None:
            return self.target
        if self.tolerance.lower is not None and self.tolerance.upper is not None:
            return (self.tolerance.lower + self.tolerance.upper) / 2
        return self.nominal


@dataclass(frozen=True, slots=True)
class Plan:
    """The inspection plan of one part, as read from one file.

    Attributes
    ----------
    zone : str
        IANA name of the plant's time zone.
    shifts : tuple of str
        Wall-clock starts of the shifts, "HH:MM", in order of the day.
    machines : tuple of Machine
        Empty: any machine is taken.
    correction_travel_mm : float or None
        Slide travel deeper than the reference setting that a die set may need.
    doubt_share : float
        Share of pieces that may be outside before they are held back.
    breaks : tuple of str
        Wall-clock beginnings of the breaks, "HH:MM", at which dies may be changed without a stop of its own.
    costs : Costs or None
        What a die change costs; None where the plan does not say.
    text, source : str
        The file as it came, and its name.
    gauged, looked_at : tuple of Characteristic
        Those with numbers, and the visual ones; worked out, never given.
    """

    part: str
    description: str
    zone: str
    shifts: tuple[str, ...]
    machines: tuple[Machine, ...]
    check: CheckRule
    characteristics: tuple[Characteristic, ...]
    correction_travel_mm: float | None = None
    doubt_share: float = 0.01
    order_kept: bool = False
    removal_words: tuple[str, ...] = ()
    breaks: tuple[str, ...] = ()
    costs: Costs | None = None
    text: str = ""
    source: str = ""
    gauged: tuple[Characteristic, ...] = field(init=False, repr=False, compare=False)
    looked_at: tuple[Characteristic, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Part once what is gauged from what is looked at."""
        gauged = tuple(each for each in self.characteristics if not each.is_visual)
        looked_at = tuple(each for each in self.characteristics if each.is_visual)
        object.__setattr__(self, "gauged", gauged)
        object.__setattr__(self, "looked_at", looked_at)

    def characteristic(self, name: str) -> Characteristic:
        """Return the characteristic called `name`; KeyError where the plan has none."""
        for characteristic in self.characteristics:
            if characteristic.name == name:
                return characteristic
        raise KeyError(name)

    def machine(self, machine_id: str) -> Machine:
        """Return the machine's habits; one with the defaults where the plan does not list it."""
        for machine in self.machines:
            if machine.id == machine_id:
                return machine
        return Machine(machine_id)
