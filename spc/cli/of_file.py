"""Refusals of the arithmetic, said with the file whose numbers they speak of."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from spc.errors import Refused

__all__ = ["of_file"]


@contextmanager
def of_file(file: str) -> Iterator[None]:
    """Say of refusals from the arithmetic which file they speak of.

    Parameters
    ----------
    file : str
        Name of the file the numbers came from.

    Raises
    ------
    Refused
        What was refused inside, each with the file unless it names one.
    """
    try:
        yield
    except Refused as refused:
        raise Refused(replace(each, file=each.file or file) for each in refused.refusals) from None
