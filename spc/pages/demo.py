"""A record of its own for somebody who tries the station: twenty invented working days, ending just now."""

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

from spc.intake import read_history, read_plans
from spc.simulator import simulate_to_folder
from spc.station import open_station

__all__ = ["Demo", "make_demo"]

Demo = tuple[Path, datetime]
"""Path of the record, and the moment at which its clock begins."""

_SINCE_LAST_CHECK = timedelta(minutes=46)
"""So that at first sight the next checks are due in a few minutes."""


def make_demo(folder: Path, tell: Callable[[str], None]) -> Demo:
    """Fill a record with the demo month.

    Parameters
    ----------
    folder : Path
        Where the files and the record are written; the caller removes it.
    tell : callable
        Told a sentence at each step.
    """
    tell("Making up twenty working days of an invented shop …")
    files = folder / "files"
    simulate_to_folder(files)
    plans = read_plans([files])
    history = read_history(plans, files / "readings.csv", files / "events.csv")
    end = max(check.time for check in history.checks)
    record = folder / "demo.sqlite"
    station = open_station(record, now=lambda: end + _SINCE_LAST_CHECK)
    try:
        station.take_history(plans, history, progress=lambda says: tell(f"Judging {says} …"))
    finally:
        station.close()
    return record, end + _SINCE_LAST_CHECK
