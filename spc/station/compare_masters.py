"""What the gauge was off on its master, told of the group whose checks it had gauged until then."""

from collections.abc import Sequence

from spc.station.compare_groupings import FloorLog
from spc.station.compared_checks import ComparedCheck

__all__ = ["found_on_master"]


def found_on_master(
    log: FloorLog, checks: Sequence[ComparedCheck], characteristic: str
) -> dict[str, list[float]]:
    """Gather what the gauge was off by the group of the checks before, in µm, for a comparison.

    Parameters
    ----------
    checks : sequence of ComparedCheck
        Oldest first.
    characteristic : str

    Returns
    -------
    dict of str to list of float
        Of groups with two settings on the master or more.

    Notes
    -----
    The value is read on the master before the gauge is set anew. It speaks of the pieces gauged since the
    setting before, whoever reads it: a gauge that the early shift finds 1.6 µm high had read high for the night.
    A setting with no check since the one before speaks of nobody.
    """
    found: dict[str, list[float]] = {}
    for machine in dict.fromkeys(check.turn[0] for check in checks):
        ours = [check for check in checks if check.turn[0] == machine]
        since = 0
        for event in log.on_master(machine, characteristic):
            until = since
            while until < len(ours) and ours[until].time < event.time:
                until += 1
            if until > since:
                found.setdefault(ours[until - 1].group, []).append(float(event.value))
            since = until
    return {name: values for name, values in found.items() if name and len(values) >= 2}
