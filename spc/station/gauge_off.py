"""A gauge found far off its master: what was read since it was last set is in doubt."""

from collections.abc import Iterator

from spc.shop import Characteristic, Notice
from spc.shop.moment import to_local
from spc.shop.names import shop_name
from spc.station.context import CheckContext
from spc.station.priors import tolerance_um
from spc.station.state import News

__all__ = ["gauges_found_off"]

_FAR = 0.1
"""Share of the tolerance from which earlier readings are in doubt (common practice, no source)."""


def gauges_found_off(context: CheckContext) -> Iterator[Notice]:
    """Say, at the first check after it, which gauge was far off and since when its readings are in doubt.

    Notes
    -----
    ISO 9001:2015, 7.1.5.2 (from memory): where equipment is found unfit, the validity of earlier results is
    looked into. A gauge that nobody named is held against the tightest tolerance of a length in the plan.
    """
    for news in context.machine.news:
        if news.kind != "gauge_zero":
            continue
        characteristic = _measured_by(context, news)
        if characteristic is not None and abs(news.amount_um) > _FAR * tolerance_um(characteristic):
            yield Notice(characteristic.name, _says(context, characteristic, news))


def _measured_by(context: CheckContext, news: News) -> Characteristic | None:
    lengths = [each for each in context.plan.gauged if each.unit != "deg"]
    if news.characteristic:
        return next((each for each in lengths if each.name == news.characteristic), None)
    return min(lengths, key=tolerance_um, default=None)


def _says(context: CheckContext, characteristic: Characteristic, news: News) -> str:
    off_um, name = abs(news.amount_um), shop_name(characteristic.name)
    share = 100.0 * off_um / tolerance_um(characteristic)
    gauge = f"the gauge for {name}" if news.characteristic else "a gauge that nobody named"
    of = "its tolerance" if news.characteristic else f"the tolerance of {name}"
    found = f"{gauge} was {off_um:.1f} µm off, {share:.0f} % of {of}"
    if news.since is None:
        clock = to_local(news.time, context.plan.zone).strftime("%H:%M")
        return f"{found}: what it read before {clock} is in doubt, no earlier setting on its master is known"
    return f"{found}: what it read since {to_local(news.since, context.plan.zone):%d %b, %H:%M} is in doubt"
