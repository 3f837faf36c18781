"""Memory: append-only facts, verdicts as shown, checkpoints and migrations, by path or URL."""

from spc.store.backup import backup, restore
from spc.store.desk import Desk
from spc.store.ledger import LedgerReport, verify
from spc.store.read_only import open_to_read
from spc.store.record import Store, open_store
from spc.store.rows import (
    NewFact,
    NewVerdict,
    Position,
    StoredCheckpoint,
    StoredFact,
    StoredVerdict,
    text_time,
    time_text,
)  # fmt: skip
from spc.store.shelf import Shelf

__all__ = [
    "Desk", "LedgerReport", "NewFact", "NewVerdict", "Position", "Shelf", "Store", "StoredCheckpoint",
    "StoredFact", "StoredVerdict", "backup", "open_store", "open_to_read", "restore", "text_time", "time_text",
    "verify",
]  # fmt: skip
