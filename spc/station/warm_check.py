"""What temperatures did to one characteristic of a check: taken off, how sure, and when that is too much."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Final

from spc.geometry import SizeAt20, warm_uncertainty
from spc.shop import Characteristic, CheckGauged, Reading, WarmGauging
from spc.station.at_20 import at_20, grows_with_warmth, is_believable, length_of, temperatures
from spc.station.pieces import piece_values, values_as_gauged
from spc.station.priors import tolerance_um

__all__ = ["NOTABLE", "warm_gauging"]

NOTABLE: Final = 0.1
"""Share of the tolerance from which on a correction is too large to lean on.

A gauge should decide a tenth of the tolerance (common practice, no source). A correction of that size is
itself known to a tenth or more, since neither the steel's expansion nor the temperature inside the part is
known better, so it alone begins to eat what the gauge was chosen for; and a part so much warmer than its
master is still cooling, so that the next piece stands elsewhere.
"""
Known = tuple[Decimal | None, Decimal | None]


def warm_gauging(check: CheckGauged, characteristic: Characteristic) -> WarmGauging | None:
    """Say what was taken off for warmth, or why nothing could be; None where nothing is known or asked for.

    Parameters
    ----------
    check : CheckGauged
    characteristic : Characteristic
        Without `expansion_per_k`, and for form and angle, temperatures change nothing and nothing is said.
    """
    if not grows_with_warmth(characteristic):
        return None
    readings = [
        each
        for each in check.readings
        if each.characteristic == characteristic.name and each.value is not None
    ]
    known = [temperatures(each, characteristic) for each in readings]
    if all(each == (None, None) for each in known):
        return None
    brought = [at_20(each, characteristic) for each in readings]
    done = [each for each in brought if each is not None]
    gauged, judged = (
        _mean(values)
        for values in (values_as_gauged(check, characteristic), piece_values(check, characteristic))
    )
    taken_off_um = float(gauged - judged) * characteristic.um_per_unit if done else None
    missing = [
        _why_not(reading, each, characteristic)
        for reading, each, size in zip(readings, known, brought, strict=True)
        if size is None
    ]
    return WarmGauging(
        correction_um=taken_off_um,
        uncertainty_um=_uncertainty_um(done, characteristic) if done else None,
        mean_as_gauged=float(gauged),
        part_c=_mean_c([each[0] for each in known]),
        master_c=_mean_c([each[1] for each in known]),
        says=_says(known, taken_off_um, missing, len(readings)),
        notice=_notice(done, missing, characteristic),
    )


def _mean(values: Sequence[Decimal]) -> Decimal:
    return sum(values, Decimal(0)) / len(values)


def _mean_c(values: Sequence[Decimal | None]) -> float | None:
    known = [Fraction(each) for each in values if each is not None]
    return float(sum(known) / len(known)) if known else None


def _uncertainty_um(done: Sequence[SizeAt20], characteristic: Characteristic) -> float:
    """Return the largest of the subgroup: one thermometer and one steel err alike on all pieces."""
    same = characteristic.master_expansion_per_k is None
    return max(1000.0 * warm_uncertainty(each, same_steel=same).total_mm for each in done)


def _says(known: Sequence[Known], taken_off_um: float | None, missing: Sequence[str], n: int) -> str:
    """Say it in one line, such as "part 31 °C, master 22 °C: 2.9 µm taken off"."""
    warmth = [
        f"{name} {_shown(mean)} °C"
        for name, mean in (
            ("part", _mean_c([each[0] for each in known])),
            ("master", _mean_c([each[1] for each in known])),
        )
        if mean is not None
    ]
    head = ", ".join(warmth)
    if taken_off_um is None:
        return f"{head}: not corrected, {missing[0]}"
    if missing:
        head += f": {len(missing)} of {n} readings not corrected, {missing[0]}; mean"
    return f"{head}: {_taken_off(taken_off_um)}"


def _taken_off(um: float) -> str:
    size = f"{abs(um):.1f}"
    if size == "0.0":
        return "nothing to take off"
    return f"{size} µm {'taken off' if um > 0 else 'added'}"


def _why_not(reading: Reading, known: Known, characteristic: Characteristic) -> str:
    for name, celsius in zip(("part", "master"), known, strict=True):
        if celsius is None:
            return f"the temperature of the {name} is not known"
        if not is_believable(celsius):
            return f"{_shown(float(celsius))} °C is hard to believe of the {name}"
    if reading.value is not None and length_of(reading.value, characteristic) is None:
        return "the plan gives no length for this deviation"
    return "something is missing"


def _notice(done: Sequence[SizeAt20], missing: Sequence[str], characteristic: Characteristic) -> str:
    """Say that parts were gauged warm against their tolerance, or that nobody knows."""
    said = [f"not corrected to 20 °C: {missing[0]}"] if missing else []
    most = max(done, key=lambda each: abs(each.taken_off_mm), default=None)
    tolerance = tolerance_um(characteristic)
    if most is not None and 1000.0 * abs(most.taken_off_mm) >= NOTABLE * tolerance:
        off_um, doubt_um = 1000.0 * abs(most.taken_off_mm), 2.0 * _uncertainty_um(done, characteristic)
        said.append(
            f"gauged warm: warmth made {off_um:.1f} µm of a tolerance of {tolerance:g} µm, known to "
            f"±{doubt_um:.1f} µm; let parts and master lie together until they are equally warm"
        )
    return "; ".join(said)


def _shown(celsius: float) -> str:
    return f"{celsius:.1f}".removesuffix(".0").replace("-", "−")
