"""The checks of the project: ``python -m tests``, or ``python -m tests --quick`` without the browser."""
