"""What every part of the card's page is made of: a heading with what stands under it, a button for a gloved finger."""

from __future__ import annotations

from outputs.record.markup import Content, Html, tag


def part(name: str, title: str, *content: Content) -> Html:
    """A part of the page under its heading."""
    return tag("section", tag("h2", title), *content, id=name)


def button(words: str, *, class_: str = "plain", **data: str) -> Html:
    """A button for a gloved finger; ``data`` tells the script what it does."""
    return tag("button", words, type="button", class_=class_, **{f"data_{name}": value for name, value in data.items()})


__all__ = ["button", "part"]
