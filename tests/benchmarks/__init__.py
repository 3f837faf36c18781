"""What the station reaches, measured: each module prints its table, as in ``python -m tests.benchmarks.forecast``."""
