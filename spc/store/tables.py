"""Tables as the queries see them; the migrations make them."""

from sqlalchemy import Integer, Text, column, table

__all__ = ["checkpoints", "drafts", "facts", "migrations", "verdicts"]

facts = table(
    "facts",
    column("id", Integer),
    column("part", Text),
    column("machine", Text),
    column("kind", Text),
    column("time", Text),
    column("rank", Integer),
    column("body", Text),
    column("recorded_at", Text),
    column("by_name", Text),
    column("reason", Text),
    column("source", Text),
    column("annuls", Integer),
    column("link", Text),
)

verdicts = table(
    "verdicts",
    column("id", Integer),
    column("fact_id", Integer),
    column("part", Text),
    column("machine", Text),
    column("time", Text),
    column("rank", Integer),
    column("body", Text),
    column("made_at", Text),
    column("superseded_at", Text),
    column("superseded_by", Integer),
)

checkpoints = table(
    "checkpoints",
    column("part", Text),
    column("time", Text),
    column("rank", Integer),
    column("fact_id", Integer),
    column("body", Text),
    column("format", Text),
)

drafts = table("drafts", column("key", Text), column("body", Text), column("saved_at", Text))

migrations = table("migrations", column("name", Text), column("applied_at", Text))
