"""Invented parts that stand in the fields of the sizes page at first."""

import math
from functools import cache

from spc.geometry import nominal_lead

__all__ = ["LEADS", "groove_trace", "screw_trace", "stem_profile"]

LEADS = "position_mm\tlead_mm\tdepth_mm\n0\t12\t0.8\n60\t12\t0.8\n120\t20\t1.4\n180\t28\t2.0"


@cache
def screw_trace() -> str:
    """Return travel readings of an invented screw of 5 mm lead, each quarter turn over 340 mm."""
    rows = [(1.25 * step, _screw_um(1.25 * step)) for step in range(273)]
    return "position_mm\tdeviation_um\n" + "\n".join(f"{x:g}\t{y:.1f}" for x, y in rows)


def _screw_um(x: float) -> float:
    return (
        0.03
        + 0.017 * x
        + 2.1 * math.sin(x / 70)
        + 1.1 * math.sin(2 * math.pi * x / 5)
        + 0.6 * math.sin(1.9 * x)
    )


@cache
def groove_trace() -> str:
    """Return readings of an invented groove that follows `LEADS`: against a lead of 12 mm, and its depth."""
    table = nominal_lead([0, 60, 120, 180], [12, 12, 20, 28])
    places = [9.0 * step for step in range(21)]
    meant = table.nominal_deviation_um(places, 12.0).tolist()
    rows = []
    for x, travel_um in zip(places, meant, strict=True):
        off_um = 0.03 * x + 3 * math.sin(x / 21)
        depth = 0.8 + 0.01 * max(x - 60, 0.0) + (2.5 * math.sin(x / 33) - 0.02 * x) / 1000
        rows.append(f"{x:g}\t{travel_um + off_um:.1f}\t{depth:.4f}")
    return "position_mm\tdeviation_um\tdepth_mm\n" + "\n".join(rows)


@cache
def stem_profile() -> str:
    """Return heights along an invented stem of 96 mm, straightened."""
    rows = []
    for step in range(25):
        x = 4.0 * step
        height = 0.05 * x + 2.6 * math.sin(math.pi * x / 96) + 0.7 * math.sin(x / 5)
        rows.append(f"{x:g}\t{height:.2f}")
    return "position_mm\theight_um\n" + "\n".join(rows)
