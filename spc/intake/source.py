"""Where rows come from: a path, or a name and the bytes that a page was given."""

from pathlib import Path

from spc.errors import Refused

__all__ = ["Source", "bytes_of"]

Source = Path | str | tuple[str, bytes]
"""A file on disk, or (name, content) of a file dropped on a page."""


def bytes_of(source: Source) -> tuple[str, bytes]:
    """Return name and content of a source.

    Raises
    ------
    Refused
        The file is missing, a folder, or may not be read.
    """
    if isinstance(source, tuple):
        return source
    path = Path(source)
    try:
        return path.name, path.read_bytes()
    except (OSError, ValueError) as error:
        reason = f"the file cannot be opened: {getattr(error, 'strerror', None) or error}"
        raise Refused.one(reason, file=str(path), allowed="a CSV or XLSX file that may be read") from None
