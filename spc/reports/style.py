"""The look of paper: our own colours and type on a white A4 sheet, page x of y by CSS, no outside request."""

from spc.drawing.theme import FONT, Theme, theme

__all__ = ["page_style"]


def page_style(running_head: str) -> str:
    """Return the style sheet of a report.

    Parameters
    ----------
    running_head : str
        What stands at the top of every page.
    """
    colours = theme("light")
    head = running_head.replace("\\", "").replace('"', "'").replace("<", "").replace("\n", " ")
    return "\n".join(("", _page(head, colours), _text(colours), _tables(colours), _blocks(colours), ""))


def _page(head: str, colours: Theme) -> str:
    """The A4 page with its running head and foot."""
    return f"""\
@page {{ size: A4; margin: 17mm 15mm 15mm 15mm;
  @top-left {{ content: "{head}"; font: 8pt {FONT}; color: {colours.quiet}; }}
  @bottom-left {{ content: "Statistics only: releases no parts, sends no settings.";
    font: 8pt {FONT}; color: {colours.quiet}; }}
  @bottom-right {{ content: "page " counter(page) " of " counter(pages); font: 8pt {FONT};
    color: {colours.quiet}; }} }}"""


def _text(colours: Theme) -> str:
    """Type, headings and paragraphs."""
    return f"""\
* {{ box-sizing: border-box; }}
html {{ -webkit-print-color-adjust: exact; print-color-adjust: exact; }}
body {{ margin: 0 auto; max-width: 190mm; padding: 8mm 5mm; background: #ffffff; color: {colours.ink};
  font: 9.5pt/1.38 {FONT}; }}
@media print {{ body {{ max-width: none; padding: 0; }} }}
h1 {{ font-size: 20pt; line-height: 1.15; margin: 0 0 1mm; }}
h2 {{ font-size: 13.5pt; margin: 8mm 0 2mm; padding-top: 2mm; border-top: 1.2pt solid {colours.ink};
  break-after: avoid; }}
h3 {{ font-size: 10.5pt; margin: 4mm 0 1mm; break-after: avoid; }}
p {{ margin: 1mm 0 2mm; }}
.quiet {{ color: {colours.quiet}; }}
.small {{ font-size: 8pt; line-height: 1.3; }}
.review + .review {{ break-before: page; }}
.fresh {{ break-before: page; border-top: 0; padding-top: 0; margin-top: 0; }}"""


def _tables(colours: Theme) -> str:
    """Facts side by side, and tables."""
    return f"""\
.facts {{ display: grid; grid-template-columns: 30mm 1fr; gap: 0.6mm 4mm; margin: 3mm 0 4mm; }}
.facts dt {{ color: {colours.quiet}; }} .facts dd {{ margin: 0; }}
table {{ border-collapse: collapse; width: 100%; margin: 1mm 0 2mm; font-variant-numeric: tabular-nums; }}
thead {{ display: table-header-group; }}
tr {{ break-inside: avoid; }}
th {{ text-align: left; font-weight: normal; color: {colours.quiet}; font-size: 8.5pt; line-height: 1.25;
  vertical-align: bottom; border-bottom: 0.8pt solid {colours.quiet}; padding: 0.6mm 2.5mm 0.6mm 0; }}
td {{ vertical-align: top; border-bottom: 0.5pt solid {colours.faint}; padding: 0.45mm 2.5mm 0.45mm 0; }}
.n {{ text-align: right; }} td.n {{ white-space: nowrap; }}
.bold {{ font-weight: bold; white-space: nowrap; }}"""


def _blocks(colours: Theme) -> str:
    """Counts, answers, pictures, cautions, and the place to sign."""
    return f"""\
.counts {{ display: flex; flex-wrap: wrap; gap: 2mm 3mm; margin: 2mm 0 3mm; padding: 0; list-style: none; }}
.counts li {{ flex: 1 1 26mm; border-left: 2.4pt solid {colours.faint}; padding: 0 0 0 2.5mm; }}
.counts b {{ display: block; font-size: 15pt; line-height: 1.2; font-weight: bold; }}
.counts svg {{ width: 4.2mm; height: 4.2mm; vertical-align: -0.6mm; margin-right: 1mm; }}
.answer {{ font-weight: bold; }}
.not-shown {{ color: {colours.hold}; }} .cannot-tell {{ color: {colours.adjust}; }}
.shown {{ color: {colours.size}; }}
figure {{ margin: 1.5mm 0 2mm; break-inside: avoid; }}
figure > svg {{ width: 100%; height: auto; display: block; }}
.line {{ white-space: nowrap; }}
.chart > svg {{ width: 76%; }}
.beside {{ break-inside: avoid; }}
.beside figure {{ display: inline-block; width: 48.5%; margin-right: 1%; vertical-align: top; }}
.lead {{ break-after: avoid; }}
.told td:first-child {{ width: 30mm; color: {colours.quiet}; }} .told {{ break-inside: avoid; }}
figcaption {{ color: {colours.quiet}; font-size: 8.5pt; }}
.caution {{ border: 0.8pt solid {colours.quiet}; padding: 2mm 3mm; margin: 4mm 0; break-inside: avoid; }}
.sign {{ display: grid; grid-template-columns: repeat(3, 1fr); gap: 8mm; margin-top: 14mm; break-inside: avoid; }}
.sign div {{ border-top: 0.8pt solid {colours.ink}; padding-top: 1mm; color: {colours.quiet}; font-size: 8.5pt; }}"""
