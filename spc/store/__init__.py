"""Memory: append-only facts, verdicts as shown, checkpoints and migrations, in SQLite or another database by URL."""
