"""What somebody is still typing for one part on one machine, kept in the record until it is saved."""

import json
import uuid
from dataclasses import dataclass, field
from typing import Any

from spc.pages.entry import GridState
from spc.station import Station

__all__ = ["Draft", "drop_draft", "read_draft", "save_draft"]


@dataclass(frozen=True, slots=True)
class Draft:
    """One unfinished check.

    Attributes
    ----------
    token : str
        Names this check to the grid, so that no value of another one gets in.
    grid : GridState or None
    fields : dict of text to any plain value
        Counter, purpose, time and the answers of the look, as they stand in the page.
    """

    token: str
    grid: GridState | None = None
    fields: dict[str, Any] = field(default_factory=dict)


def read_draft(station: Station, key: str) -> Draft:
    """Return what was being typed, or an empty draft with a token of its own."""
    with station.store.reading() as shelf:
        body = shelf.draft(key)
    try:
        record = json.loads(body or "{}")
        grid = record.get("grid")
        return Draft(
            str(record["token"]),
            GridState.from_dict(grid) if grid else None,
            dict(record.get("fields") or {}),
        )
    except (ValueError, KeyError, AttributeError):
        return Draft(uuid.uuid4().hex)  # nothing kept, or kept by another version


def save_draft(station: Station, key: str, draft: Draft) -> None:
    """Keep what is being typed."""
    record = {
        "token": draft.token,
        "grid": None if draft.grid is None else draft.grid.to_dict(),
        "fields": draft.fields,
    }
    station.store.save_draft(key, json.dumps(record, ensure_ascii=False))


def drop_draft(station: Station, key: str) -> None:
    """Forget it: it was saved, or thrown away on purpose."""
    station.store.drop_draft(key)
