"""A history as files: plans, readings, events, and the truth nobody in a real shop would have."""

import csv
import io
import json
from collections.abc import Iterable
from pathlib import Path

from spc.simulator.history import EventRow, History, LifeTruth, ReadingRow, SizeTruth
from spc.simulator.plans import plan_text
from spc.simulator.small_shop import demo_history

__all__ = ["simulate_to_folder", "write_history"]

READING_COLUMNS = [
    "time",
    "machine",
    "part",
    "characteristic",
    "piece",
    "value",
    "unit",
    "counter",
    "operator",
    "purpose",
]
EVENT_COLUMNS = ["time", "machine", "part", "event", "value", "note", "counter", "form", "operator"]


def simulate_to_folder(
    folder: Path, seed: int = 20260302, *, days: int = 20, parts: tuple[str, ...] = ()
) -> None:
    """Write the demo shop's files into a folder, for a person who wants data to try the station with.

    Parameters
    ----------
    folder : Path
        Made if missing; files of the same name are replaced.
    seed : int
        At least 0; the same seed writes the same bytes on any machine.
    days : int
        Working days, at least 1; the small plans run on the last of them.
    parts : tuple of str
        Part ids to keep; empty keeps all.
    """
    write_history(folder, demo_history(seed, days, parts))


def write_history(folder: Path, history: History) -> None:
    """Write ``plan-<part>.toml``, ``readings.csv``, ``events.csv`` and ``truth.json``.

    Parameters
    ----------
    folder : Path
        Made if missing; files of the same name are replaced.
    history : History
        From `simulate`.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for part in history.shop.parts:
        _put(folder / f"plan-{part.id}.toml", plan_text(history.shop, part))
    _put(folder / "readings.csv", _table(READING_COLUMNS, history.readings))
    _put(folder / "events.csv", _table(EVENT_COLUMNS, history.events))
    _put(folder / "truth.json", _truth_text(history))


def _put(path: Path, text: str) -> None:
    path.write_bytes(text.encode("utf-8"))


def _table(header: list[str], rows: Iterable[ReadingRow] | Iterable[EventRow]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        cells = [getattr(row, column) for column in header]
        writer.writerow([cells[0].isoformat(), *cells[1:]])
    return text.getvalue()


def _truth_text(history: History) -> str:
    """One line an entry, so that a changed number shows as a changed line."""
    lists: dict[str, list[object]] = {
        "stories": [_story(history, place) for place in range(len(history.stories))],
        "die_lives": [_life(life) for life in history.lives],
        "bar_batches": [*history.batches],
        "sizes": [_size(size) for size in history.sizes],
    }
    head = {"seed": history.seed, "start": history.shop.start.isoformat(), "days": history.shop.days}
    blocks = [f"{json.dumps(key)}: {json.dumps(value)}" for key, value in head.items()]
    blocks.append(f'"sizes_columns": {json.dumps(SIZE_COLUMNS)}')
    for key, entries in lists.items():
        lines = ",\n".join(json.dumps(entry, ensure_ascii=False) for entry in entries)
        blocks.append(f"{json.dumps(key)}: [\n{lines}\n]")
    return "{\n" + ",\n".join(blocks) + "\n}\n"


def _story(history: History, place: int) -> dict[str, object]:
    story = history.stories[place]
    return {
        "story": story.letter,
        "machine": story.machine,
        "part": story.part,
        "characteristic": story.characteristic,
        "from": story.begin.isoformat(),
        "to": story.end.isoformat(),
        "says": story.says,
        "sizes": dict(story.sizes),
    }


def _life(life: LifeTruth) -> dict[str, object]:
    return {
        "machine": life.machine,
        "part": life.part,
        "die_set": life.die_set,
        "life": life.life,
        "mounted": [time.isoformat() for time in life.mounted],
        "removed": [time.isoformat() for time in life.removed],
        "reason": life.reason,
        "age": life.age,
        "end_age": life.end_age,
        "limited_by": life.limited_by,
        "limit": life.limit,
        "wear_um": {name: round(wear, 2) for name, wear in life.wear_um.items()},
        "wear_um_per_1000": {name: round(rate, 4) for name, rate in life.wear_um_per_1000.items()},
        "gain": {name: round(gain, 4) for name, gain in life.gain.items()},
    }


SIZE_COLUMNS = [
    "time", "machine", "part", "die_set", "counter", "age", "purpose", "characteristic",
    "size_um", "wear_um", "batch_um", "warm_um", "other_um", "gauge_um", "slide_mm",
]  # fmt: skip


def _size(size: SizeTruth) -> list[object]:
    shares = (size.size_um, size.wear_um, size.batch_um, size.warm_um, size.other_um, size.gauge_um)
    return [
        size.time.isoformat(),
        size.machine,
        size.part,
        size.die_set,
        size.counter,
        size.age,
        size.purpose,
        size.characteristic,
        *(round(share, 2) + 0.0 for share in shares),
        size.slide_mm,
    ]
