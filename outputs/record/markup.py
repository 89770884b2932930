"""Elements of a page, built so that nothing gets in unescaped and every element is closed.

Terms
-----
Html
    A text that is markup already. Any other text that goes into an element is escaped.
page
    One document that needs nothing else: its style stands in it, and it refers to no other file.
"""

from __future__ import annotations

import html
from collections.abc import Iterable
from typing import TypeAlias

VOID = frozenset({"meta", "br", "hr", "col"})
"""Elements without content; they close themselves, so that the page is well-formed XML too."""


class Html(str):
    """Markup that is ready to stand in a page."""

    __slots__ = ()


Content: TypeAlias = "str | Html | Iterable[Content] | None"

# Signs below a space that no document may hold, but for tab and the ends of lines.
_BARRED = {code: "?" for code in range(32) if code not in (9, 10, 13)} | {0xFFFE: "?", 0xFFFF: "?"}


def text(value: str) -> Html:
    """Plain text, escaped."""
    return Html(html.escape(value.translate(_BARRED), quote=True))


def join(*content: Content) -> Html:
    """Contents one after the other; None is nothing."""
    parts: list[str] = []
    for each in content:
        if each is None:
            continue
        if isinstance(each, Html):
            parts.append(each)
        elif isinstance(each, str):
            parts.append(text(each))
        else:
            parts.append(join(*each))
    return Html("".join(parts))


def tag(name: str, /, *content: Content, **attributes: str | float | None) -> Html:
    """One element. ``class_`` stands for class, an underscore in an attribute for a hyphen; None leaves an attribute out.

    >>> tag("td", "a < b", class_="num", data_x=3)
    '<td class="num" data-x="3">a &lt; b</td>'
    >>> tag("meta", charset="utf-8"), tag("p", "<script>", tag("b", "x"))
    ('<meta charset="utf-8"/>', '<p>&lt;script&gt;<b>x</b></p>')
    """
    words = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{text(value if isinstance(value, str) else f"{value:g}")}"'
        for key, value in attributes.items()
        if value is not None
    )
    if name in VOID:
        return Html(f"<{name}{words}/>")
    return Html(f"<{name}{words}>{join(*content)}</{name}>")


def items(entries: Iterable[Content], *, class_: str | None = None) -> Html:
    """A list of entries."""
    return tag("ul", (tag("li", entry) for entry in entries), class_=class_)


def table(
    caption: str,
    headings: Iterable[str],
    rows: Iterable[Iterable[Content]],
    *,
    class_: str | None = None,
    numbers: Iterable[int] = (),
) -> Html:
    """A table with a caption; the first cell of each row is its heading. ``numbers`` are columns set flush right."""
    flush = frozenset(numbers)

    def cell(column: int, content: Content) -> Html:
        kind = "num" if column in flush else None
        return tag("th", content, scope="row", class_=kind) if column == 0 else tag("td", content, class_=kind)

    head = tag("tr", (tag("th", each, scope="col", class_="num" if i in flush else None) for i, each in enumerate(headings)))
    body = (tag("tr", (cell(i, each) for i, each in enumerate(row))) for row in rows)
    return tag("table", tag("caption", caption), tag("thead", head), tag("tbody", body), class_=class_)


def section(title: str, *content: Content, id_: str | None = None) -> Html:
    """A part of the page under a heading of the second order."""
    return tag("section", tag("h2", title), "\n", *content, "\n", id=id_)


def page(title: str, *content: Content) -> bytes:
    """The whole document, UTF-8."""
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        tag("style", Html(STYLE)),
    )
    body = tag("body", "\n", *content, "\n")
    return f"<!DOCTYPE html>\n{tag('html', head, Html(chr(10)), body, lang='en')}\n".encode()


STYLE = """
@page { size: A4; margin: 14mm 13mm 16mm }
* { box-sizing: border-box }
body { font: 9.5pt/1.32 "Roboto", "Arial", "Liberation Sans", "DejaVu Sans", sans-serif; color: #1a1a1a; background: #fff;
  max-width: 200mm; margin: 0 auto; padding: 6mm 8mm }
h1 { font-size: 18pt; line-height: 1.2; margin: 0 0 2mm } h2 { font-size: 14pt; margin: 9mm 0 2.5mm; border-bottom: 0.5mm solid #1a1a1a }
h3 { font-size: 11.5pt; margin: 5mm 0 1.5mm } h4 { font-size: 10.5pt; margin: 0 0 1mm }
h1, h2, h3, h4, caption { break-after: avoid }
p { margin: 1.2mm 0 } ul { margin: 1.2mm 0; padding-left: 6mm } li { margin: 0.6mm 0 }
table { border-collapse: collapse; width: 100%; margin: 2mm 0; font-size: 8.8pt }
caption { text-align: left; font-weight: bold; padding: 1mm 0 }
th, td { border: 0.2mm solid #888; padding: 0.8mm 1.4mm; text-align: left; vertical-align: top }
thead th { background: #ececec } tbody th { font-weight: normal } tr { break-inside: avoid }
thead { break-after: avoid } tbody tr:first-child { break-before: avoid }
.num { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums } thead .num { white-space: normal }
.small, .source { font-size: 7.8pt; color: #444 } .name { font-weight: bold } .code { white-space: nowrap }
.verdict { font-weight: bold; white-space: nowrap; padding: 0 1.2mm; border: 0.4mm solid; border-radius: 1mm }
.fail { color: #8f0000; background: #fde8e6 } .look { color: #6b4300; background: #fff2d2 }
.pass { color: #0c4f1f; background: #e6f4e6 } .open { color: #333; background: #eee; border-style: dashed }
.default { font-weight: bold; background: #fff2d2; padding: 0 0.8mm; border-bottom: 0.4mm dashed #6b4300 }
.warn { border: 0.5mm solid #6b4300; border-left-width: 2.5mm; padding: 1.5mm 3mm; margin: 2.5mm 0; break-inside: avoid }
.findings { table-layout: fixed } .findings th:nth-child(1) { width: 15mm } .findings th:nth-child(3) { width: 14mm }
.findings th:nth-child(4) { width: 27mm } .findings th:nth-child(5) { width: 16mm } .findings th:nth-child(6) { width: 12mm }
.findings th:nth-child(7) { width: 19mm } .findings th:nth-child(8) { width: 10mm } .findings tbody th { width: auto }
.findings td { overflow-wrap: break-word }
.figures { columns: 2; column-gap: 6mm } .figures h3 { margin: 1mm 0 }
.figure { break-inside: avoid; border-top: 0.3mm solid #1a1a1a; padding: 0.8mm 0 1.6mm; font-size: 8.4pt; line-height: 1.25 }
.figure h4 { font-size: 8.8pt; margin: 0 } .figure p { margin: 0.4mm 0 } .figure table { margin: 0.8mm 0; font-size: 8pt }
.figure th, .figure td { padding: 0.2mm 1mm } .figure th:first-child { width: 26mm } .figure .verdict { padding: 0 0.6mm; border-width: 0.2mm }
.hidden, .figure caption, .figure thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%) }
.figure tfoot th, .figure tfoot td { font-weight: bold; border-top: 0.5mm solid #1a1a1a }
.formula { font-style: italic } .matrix { font-size: 7.4pt; table-layout: fixed } .matrix th:nth-child(1) { width: 38mm }
.matrix thead th { font-size: 6.3pt; hyphens: auto; padding: 0.5mm 0.4mm }
.matrix th:nth-child(2) { width: 9mm } .matrix .verdict { padding: 0 0.4mm; border-width: 0.2mm } .matrix th, .matrix td { padding: 0.5mm 0.8mm }
.clock { columns: 2; column-gap: 6mm } .clock table { break-inside: avoid; margin-top: 0 }
figure { margin: 2.5mm 0; break-inside: avoid } figcaption { font-size: 9pt } svg { max-width: 100%; height: auto; display: block }
@media print { body { padding: 0; max-width: none } a { color: inherit; text-decoration: none } }
@media screen and (max-width: 700px) { .figures, .clock { columns: 1 } .wide { overflow-x: auto } }
"""


__all__ = ["Html", "items", "join", "page", "section", "table", "tag", "text"]
