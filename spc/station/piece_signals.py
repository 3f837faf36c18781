"""Signals that the pieces of one check give: outside the tolerance, an entry in doubt, one apart, a wider spread."""

from collections.abc import Sequence
from decimal import Decimal
from statistics import median

from spc.shop import Characteristic, Signal
from spc.shop.changed import changed
from spc.shop.layouts import Cause
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.limits_now import Limits
from spc.station.logged_since import logged_since
from spc.station.pieces import piece_numbers
from spc.station.said import signal
from spc.station.state import ChartState
from spc.wear import Level, from_here, watch_spread

__all__ = ["piece_signals", "spread_signals"]

Told = tuple[Cause, float, str]

_ODD_PIECE = 6.0
"""Piece-spreads from the middle of the others at which one piece stands apart."""
_ORDINARY = 5.0
"""Piece-spreads within which the others must lie together for one to be the odd one."""
_ENOUGH_DF = 16.0
"""Degrees of freedom from which a spread is known well enough to judge another by."""


def piece_signals(
    context: CheckContext, characteristic: Characteristic, values: tuple[Decimal, ...], doubt: str
) -> tuple[Signal, ...]:
    """Pieces outside the tolerance, and an entry that is hard to believe."""
    found = []
    if not characteristic.tolerance.holds_all(values):
        numbered = zip(piece_numbers(context.check, characteristic), values, strict=True)
        out = [(piece, value) for piece, value in numbered if not characteristic.tolerance.holds(value)]
        piece, value = max(out, key=lambda each: _beyond_um(characteristic, each[1]))
        limit = characteristic.tolerance.nearest(value)
        beyond = _beyond_um(characteristic, value)
        says = f"{len(out)} of {len(values)} pieces out of tolerance"
        far = "" if doubt else f"{beyond:.1f} µm "
        says += f"; piece {piece} is {_short(value, characteristic)}, {far}beyond {limit}"
        found.append(signal(context, characteristic.name, "out_of_tolerance", says))
    if doubt:
        entry = f"an entry mistake in this check of {len(values)} piece{'s' if len(values) > 1 else ''}"
        found.append(signal(context, characteristic.name, "suspect_entry", doubt, ("entry", 0.8, entry)))
    return tuple(found)


def spread_signals(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    limits: Limits | None,
    chart: ChartState,
    levels: Sequence[Level] = (),
) -> tuple[ChartState, tuple[Signal, ...]]:
    """One piece apart from the others, or pieces that have begun to differ more than before.

    Parameters
    ----------
    levels : sequence of Level
        The last checks, this one last: what was logged as the spread began to grow stands beside it.

    Notes
    -----
    A range beyond a signed limit is a signal by the letter. Besides, the spread is watched with memory (see
    `wear.watch`). As long as few checks have told what it is, each sum of squares counts a little less, for the σ
    it is held against is itself uncertain.
    """
    if gauged.n < 2 or chart.spread.df < _ENOUGH_DF:
        return chart, ()
    odd_one = _odd_piece(gauged)
    if odd_one is not None:
        return chart, (_apart(context, characteristic, gauged, odd_one),)
    squares = sum([(each - gauged.mean_um) ** 2 for each in gauged.values_um])
    certain = chart.spread.df / (chart.spread.df + 2.0)
    is_set = bool(levels[1:]) and levels[-1].news == "setting"
    watch = from_here(chart.watch) if is_set else chart.watch
    logged = logged_since(levels, watch.spread_since + 1)
    suspected = logged is not None and logged.news == "setting"
    squares_of_sigma = certain * squares / gauged.sigma_um**2
    watch, checks, times = watch_spread(watch, squares_of_sigma, gauged.n - 1, suspected=suspected)
    chart = chart if watch is chart.watch else changed(chart, watch=watch)
    if not checks and not _beyond_signed(characteristic, gauged, limits):
        return chart, ()
    if not checks:
        times = (squares / (gauged.n - 1)) ** 0.5 / gauged.sigma_um
    over = f"over the last {checks} checks" if checks > 1 else "in this check"
    from_to = f"grown from {gauged.sigma_um:.1f} to {times * gauged.sigma_um:.1f} µm"
    says = f"the {gauged.n} pieces differ more than before {over}: spread {from_to}"
    grown = f"the spread of a piece has {from_to} {over}"
    odd = f"single pieces of this check, {max(gauged.values_um) - min(gauged.values_um):.1f} µm apart"
    causes = _behind_spread(logged_since(levels, checks), grown, odd)
    return chart, (signal(context, characteristic.name, "spread", says, *causes),)


def _behind_spread(logged: Level | None, grown: str, odd: str) -> tuple[Told, ...]:
    """What most likely lies behind pieces that differ more, with what was logged as they began to."""
    if logged is None:
        return ("spread", 0.8, grown), ("odd_piece", 0.1, odd)
    beside = f"{logged.news_says}; since then {grown}"
    if logged.news == "setting":
        return ("setting", 0.6, beside), ("spread", 0.3, grown)
    return ("spread", 0.6, grown), ("batch", 0.3, beside)


def _beyond_signed(characteristic: Characteristic, gauged: Gauged, limits: Limits | None) -> bool:
    if limits is None or limits.standing != "signed" or limits.spread_upper is None:
        return False
    width_um = max(gauged.values_um) - min(gauged.values_um)
    return width_um > limits.spread_upper * characteristic.um_per_unit


def _apart(context: CheckContext, characteristic: Characteristic, gauged: Gauged, place: int) -> Signal:
    piece = piece_numbers(context.check, characteristic)[place]
    others = [value for i, value in enumerate(gauged.values_um) if i != place]
    away = abs(gauged.values_um[place] - sum(others) / len(others))
    says = (
        f"piece {piece} stands {away:.1f} µm apart from the others, "
        f"which differ by {max(others) - min(others):.1f} µm among themselves"
    )
    odd: Told = ("odd_piece", 0.6, f"piece {piece} is an odd one")
    entry: Told = ("entry", 0.3, f"an entry or gauging mistake on piece {piece}")
    return signal(context, characteristic.name, "isolated", says, odd, entry)


def _odd_piece(gauged: Gauged) -> int | None:
    """Return the place of the piece that stands apart, if the others alone are ordinary."""
    values = gauged.values_um
    if len(values) < 3 or max(values) - min(values) <= _ODD_PIECE * gauged.sigma_um:
        return None
    middle = median(values)
    place = max(range(len(values)), key=lambda i: abs(values[i] - middle))
    others = [value for i, value in enumerate(values) if i != place]
    ordinary = max(others) - min(others) <= _ORDINARY * gauged.sigma_um
    apart = abs(values[place] - sum(others) / len(others)) > _ODD_PIECE * gauged.sigma_um
    return place if ordinary and apart else None


def _short(value: Decimal, characteristic: Characteristic) -> Decimal:
    """Say a gauged value as it came; one that was worked out, to two decimals more than the drawing's."""
    limits = (characteristic.tolerance.lower, characteristic.tolerance.upper)
    drawn = (characteristic.nominal, *(each for each in limits if each is not None))
    finest = min(int(each.as_tuple().exponent) for each in drawn)
    least = Decimal(1).scaleb(min(0, finest) - 2)
    return value if value == value.quantize(least) else value.quantize(least)


def _beyond_um(characteristic: Characteristic, value: Decimal) -> float:
    limit = characteristic.tolerance.nearest(value)
    return 0.0 if limit is None else float(abs(value - limit)) * characteristic.um_per_unit
