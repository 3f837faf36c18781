"""A table on paper: heads, rows of cells already safe for HTML, numbers to the right."""

from collections.abc import Sequence

__all__ = ["table"]


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], numbers: Sequence[int] = ()) -> str:
    """Return an HTML table.

    Parameters
    ----------
    heads : sequence of str
    rows : sequence of sequence of str
        As long as `heads`, safe for HTML.
    numbers : sequence of int
        Columns, from 0, that stand to the right.

    Examples
    --------
    >>> table(["what", "pieces"], [["over pin", "125"]], numbers=[1]).split("<tbody>")[1]
    '<tr><td>over pin</td><td class="n">125</td></tr></tbody></table>'
    """
    kinds = [' class="n"' if column in numbers else "" for column in range(len(heads))]
    head = "".join(f"<th{kind}>{cell}</th>" for kind, cell in zip(kinds, heads, strict=True))
    body = "".join(
        "<tr>" + "".join(f"<td{kind}>{cell}</td>" for kind, cell in zip(kinds, row, strict=True)) + "</tr>"
        for row in rows
    )
    return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"
