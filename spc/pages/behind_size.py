"""Under the picture of a size: what the drawing calls it, on the pieces of the last check."""

import streamlit as st

from spc.station.size_behind import SizeBehind, size_behind
from spc.station.views import CharacteristicHistory

__all__ = ["behind_size", "behind_words"]


def behind_size(history: CharacteristicHistory) -> None:
    """Say quietly the tooth thickness, pitch diameter or ball circle behind the last check that counts."""
    points = [each for each in history.points if not each.struck_out and not each.suspect]
    behind = size_behind(history.characteristic, points[-1].values) if points else None
    if behind is not None:
        st.caption(behind_words(behind))


def behind_words(behind: SizeBehind) -> str:
    """Say mean, pieces and limits of the size behind the gauge.

    Examples
    --------
    >>> behind_words(SizeBehind("tooth thickness", 3.06671, 3.0651, 3.0682, 3.0327, 3.1007, 5))
    'Tooth thickness behind the last check: 3.0667 mm on average, pieces 3.0651 to 3.0682; limits 3.0327 to 3.1007 mm.'
    """
    name = behind.name[:1].upper() + behind.name[1:]
    pieces = (
        "" if behind.n == 1 else f" on average, pieces {behind.smallest_mm:.4f} to {behind.largest_mm:.4f}"
    )
    return f"{name} behind the last check: {behind.mean_mm:.4f} mm{pieces}{_limit_words(behind)}."


def _limit_words(behind: SizeBehind) -> str:
    if behind.lower_mm is not None and behind.upper_mm is not None:
        return f"; limits {behind.lower_mm:.4f} to {behind.upper_mm:.4f} mm"
    if behind.upper_mm is not None:
        return f"; at most {behind.upper_mm:.4f} mm"
    return "" if behind.lower_mm is None else f"; at least {behind.lower_mm:.4f} mm"
