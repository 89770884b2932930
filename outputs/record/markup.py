"""Elements of a page, built so that nothing gets in unescaped and every element is closed.

Terms
-----
Html
    A text that is markup already. Any other text that goes into an element is escaped, and its figures get the decimal sign of a page.
as it is
    A text whose figures stay as they are: a value as it is typed into a job file, the number of a sum, the name of a standard's table.
page
    One document that needs nothing else: its style stands in it, and it refers to no other file.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable
from typing import TypeAlias

from outputs.files.face_parts import face_rule
from outputs.record.numbers import printed
from outputs.record.style import LARGER, STYLE

ALONE = "default-src 'none'; style-src 'unsafe-inline'; font-src data:"
"""What a page may fetch: nothing. Its style and its face stand in it, and it runs no script."""
VOID = frozenset({"meta", "br", "hr", "col", "wbr"})
"""Elements without content; they close themselves, so that the page is well-formed XML too."""


class Html(str):
    """Markup that is ready to stand in a page."""

    __slots__ = ()


class AsItIs(str):
    """A text of which no sign is changed but for escaping."""

    __slots__ = ()


Content: TypeAlias = "str | Html | Iterable[Content] | None"

_MARKS = re.compile(r"<[^>]*>")
# Signs below a space that no document may hold, but for tab and the ends of lines.
_BARRED = {code: "?" for code in range(32) if code not in (9, 10, 13)} | {0xFFFE: "?", 0xFFFF: "?"}


def text(value: str) -> Html:
    """Plain text as a page prints it, escaped."""
    return escaped(value if isinstance(value, AsItIs) else printed(value))


def escaped(value: str) -> Html:
    """A text escaped, no other sign of it changed."""
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
        f' {key.rstrip("_").replace("_", "-")}="{escaped(value if isinstance(value, str) else f"{value:g}")}"'
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


def page(title: str, *content: Content, running: str = "") -> bytes:
    """The whole document, UTF-8; ``running`` stands at the head of every printed page, the title where it is not given."""
    body = tag("body", "\n", *content, "\n")
    signs = frozenset(html.unescape(_MARKS.sub("", body + running + title))) - frozenset("\n\t")
    face = face_rule(signs, signs, size=LARGER)
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=ALONE),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        tag("style", Html(face + STYLE.replace("RUNNING", _css_string(running or title)))),
    )
    return f"<!DOCTYPE html>\n{tag('html', head, Html(chr(10)), body, lang='en')}\n".encode()


def _css_string(words: str) -> str:
    """A text as a string of the style: every sign that could end it, or the style, is written by its number."""
    plain = words.translate(_BARRED)
    return "".join(sign if sign.isalnum() or sign in " .,-·" else f"\\{ord(sign):x} " for sign in plain)


__all__ = ["AsItIs", "Html", "escaped", "items", "join", "page", "section", "table", "tag", "text"]
