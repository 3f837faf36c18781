"""Changes that a logged event, or a machine still cold, explains: they raise no alarm, and the record keeps why."""

import math

from spc.shop import Characteristic, Explained
from spc.shop.layouts import Cause
from spc.station.accounted import BATCHES
from spc.station.context import CheckContext
from spc.station.gauged import Gauged
from spc.station.said import clock
from spc.station.state import ChartState, News
from spc.wear import Forecast, WearBelief, open_shift

__all__ = ["explained_by_news", "informed_news"]

_NOTICED = 2.0
"""Standard errors below which a change is not worth a sentence."""
_COLD = 2.0
"""Standard deviations of what starts do within which a change after a start is theirs."""
_MASTER = 0.5
"""Share of what a gauge was off by which a change may differ from it."""


def informed_news(belief: WearBelief, context: CheckContext, characteristic: Characteristic) -> WearBelief:
    """Let a changed setting open the passing shift by a tenth of the tolerance; batches already did."""
    for news in context.news_about(characteristic):
        if news.kind == "setting":
            belief = open_shift(belief, context.prior(characteristic).batch_sd_um ** 2)
    return belief


def explained_by_news(
    context: CheckContext,
    characteristic: Characteristic,
    gauged: Gauged,
    plain: Forecast | None,
    chart: ChartState,
) -> tuple[Explained, ...]:
    """Say what wholly explains the change since the last check: the newest event that can, or a cold machine.

    Parameters
    ----------
    plain : Forecast or None
        What the model expected; it carries everything known, gauges set on their masters included.
    """
    if chart.last_mean_um is None:
        return ()
    change = gauged.mean_um - chart.last_mean_um
    news = [each for each in context.news_about(characteristic) if each.kind not in ("stop", "note")]
    if plain is not None:
        known = sum(each.amount_um for each in news if each.characteristic)
        change = gauged.mean_um - (plain.mean_um - gauged.cold_um - known)
    if abs(change) < _NOTICED * math.sqrt(2.0 * gauged.white_um2):
        return ()
    batch_var = context.prior(characteristic).batch_sd_um ** 2
    for each in reversed(news):
        if _can_do(each, change, gauged.white_um2, batch_var):
            return (Explained(characteristic.name, _cause(each), _says(context, each, change)),)
    return _cold(context, characteristic, gauged, change)


def _cold(
    context: CheckContext, characteristic: Characteristic, gauged: Gauged, change_um: float
) -> tuple[Explained, ...]:
    """A machine that is not warm yet, where what starts do here accounts for the change."""
    if gauged.cold == 0.0:
        return ()
    doubt = math.sqrt(gauged.cold**2 * gauged.warm_up.doubt_um2 + 2.0 * gauged.white_um2)
    if abs(change_um - gauged.cold_um) > _COLD * doubt:
        return ()
    way = "up" if change_um > 0 else "down"
    since = f"{context.pieces_since_start} pieces after the start"
    return (Explained(characteristic.name, "warm_up", f"{abs(change_um):.1f} µm {way}, {since}"),)


def _can_do(news: News, change_um: float, noise_var_um2: float, batch_var_um2: float) -> bool:
    """Whether an event alone accounts for a change; a gauge does so only about as far as it was off, and for half."""
    if news.kind == "gauge_zero":
        off_um, noise_um = abs(news.amount_um), _NOTICED * math.sqrt(2.0 * noise_var_um2)
        return abs(change_um - news.amount_um) <= max(_MASTER * off_um, min(noise_um, off_um))
    return abs(change_um) <= BATCHES * math.sqrt(2.0 * noise_var_um2 + batch_var_um2)


def _cause(news: News) -> Cause:
    """The kinds of news that explain are causes by the same name; anything else is a setting."""
    causes: dict[str, Cause] = {"batch": "batch", "gauge_zero": "gauge_zero"}
    return causes.get(news.kind, "setting")


def _says(context: CheckContext, news: News, change_um: float) -> str:
    way = "up" if change_um > 0 else "down"
    return f"{abs(change_um):.1f} µm {way} with {news.text}, {clock(context, news.time)}"
