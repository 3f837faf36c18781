"""The terminal: the station's verbs as commands, one a file."""

from spc.cli.entry import build_parser, main

__all__ = ["build_parser", "main"]
