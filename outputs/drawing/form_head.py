"""The head of a form to fill in: code, hand, revision and mark, which paper it is, and what the checks came to; and its boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing import card_hand as hand
from outputs.drawing.card_head import head_plain, shortened

if TYPE_CHECKING:
    from geometry.findings.state import State
    from geometry.job import Pane
    from outputs.drawing.form_page import FormPage

HEAD_FOOT = 28.6
"""Down from the head of the page to where the form begins, paper mm."""


def form_head(page: FormPage, pane: Pane, *, title: str, identity: str, vessel: str, mark: str, state: State | None) -> None:
    """Put up the head, under the code the identification number with vessel, pane and place in one line.

    A pane that must not be made has the state of its checks in white on black, after the words that it is not to be fitted.
    """
    page.marks += head_plain(pane, mark)
    page.say(hand.RIGHT, 15.4, title, 5.0, bold=True, align="right")
    black = state is not None and bool(state.not_for_manufacture)
    told, wide = "" if state is None else f"{'DO NOT FIT' if black else 'checks'}: {state.told}", 0.0
    if told:
        wide = hand.width_of(told, hand.SMALL, bold=True)
        if black:
            page.marks.append(hand.plate(hand.RIGHT - wide - 4.0, hand.down(28.2), hand.RIGHT, hand.down(23.2)))
            page.marks.append(
                hand.words(hand.RIGHT - 2.0, hand.down(27.0), told, hand.SMALL, bold=True, align="right", white=True)
            )
            wide += 4.0
        else:
            page.say(hand.RIGHT, 27.0, told, hand.SMALL, bold=True, align="right")
    names = ", ".join(filter(None, (identity, vessel, pane.name, pane.location)))
    room = hand.RIGHT - hand.LEFT - wide - 4.0
    small = hand.width_of(names, hand.PLAIN) > room
    page.say(
        hand.LEFT,
        27.0,
        shortened(names, room * hand.PLAIN / hand.SMALL) if small else names,
        hand.SMALL if small else hand.PLAIN,
    )


def blank(page: FormPage, name: str, left: float, top: float, right: float, foot: float, beside: str = "") -> None:
    """An empty box with its name over it, and at the right end of that line what is wanted in it."""
    page.say(left, top + hand.SMALL, name)
    if beside:
        page.say(right, top + hand.SMALL, beside, bold=True, align="right")
    page.marks.append(hand.field(left, hand.down(foot), right, hand.down(top + hand.SMALL + 1.5)))


__all__ = ["HEAD_FOOT", "blank", "form_head"]
