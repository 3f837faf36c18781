"""When the record first saw a die set mounted on a machine, for files that begin later."""

from collections.abc import Collection
from datetime import datetime

from spc.shop import EventLogged
from spc.station.kept import fact_of
from spc.store import Shelf

__all__ = ["first_mounted"]


def first_mounted(shelf: Shelf, machines: Collection[str]) -> dict[str, datetime]:
    """Return the first mounting that is on record, for whoever reads a file of readings and events.

    Parameters
    ----------
    machines : collection of str
        Those on which the file mounts a die set: its checks between the record's first mounting and the
        file's own are then no strangers. A machine that the file mounts nothing on is not to be asked for.

    Returns
    -------
    dict of machine to datetime
        Aware, in UTC; without the machines on which the record knows no mounting.
    """
    wanted = set(machines)
    first: dict[str, datetime] = {}
    for part in ("", *shelf.parts()) if wanted else ():
        for stored in shelf.facts(part, () if part else wanted, kinds=("event",)):
            fact = fact_of(stored) if stored.machine in wanted else None
            if isinstance(fact, EventLogged) and fact.event == "die_set_mounted":
                first[fact.machine] = min(fact.time, first.get(fact.machine, fact.time))
    return first
