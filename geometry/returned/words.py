"""What the texts of a returned drawing say of the printed face, of the side it is seen from and of the permanent mark, held against the request.

Words are quoted as they stand. What they do not say is not checked; geometry cannot tell it.

Terms
-----
face
    Counted from the weather face inwards, 1 outside. Glass makers also say surface, side or position, or write ``#2``.
mark
    The permanent mark: stamp or logo.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.compare.move import Move
    from geometry.incoming.pieces import Label
    from geometry.outline import Point

LONGEST = 160
"""Signs of a text that are quoted."""
_FACE = re.compile(
    r"(?:\b(?:face|surface|side|position|pos)\b\.?\s*(?:no\.?\s*|nr\.?\s*|number\s*)?#?\s*|#\s*)(\d{1,2})\b", re.IGNORECASE
)
_PRINT = re.compile(r"frit|print|enamel|ceramic|screen|obscur|siebdruck|serigr", re.IGNORECASE)
_MARK = re.compile(r"\b(?:stamp|logo|marking|(?<!witness )mark(?! of the job))\b", re.IGNORECASE)
_VIEW = re.compile(
    r"\b(?:view(?:ed)?|seen|looking|as seen)\b[^.;]{0,20}\b(?P<after>inside|outside|interior|exterior)\b"
    r"|\b(?P<before>inside|outside|interior|exterior)\s+view\b",
    re.IGNORECASE,
)
_INSIDE = ("inside", "interior")
_SIDES = (
    ("left", "right"),
    ("upper", "lower"),
    ("top", "bottom"),
    ("top", "lower"),
    ("upper", "bottom"),
    ("fore", "aft"),
    ("fwd", "aft"),
)


class Says(Enum):
    """How words stand to the request."""

    AGREES = "agrees"
    CONTRADICTS = "contradicts"
    LOOK = "look"
    NOT_CHECKED = "not checked"


@dataclass(frozen=True, slots=True)
class Quoted:
    """One text that speaks of face, view or mark: what of, the words as they stand, where on the pane, and how they stand to the request."""

    topic: str
    text: str
    at: Point
    says: Says
    why: str


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for: the printed face, the number of faces, and where the permanent mark stands ("": not said)."""

    face: int
    faces: int
    mark: str


def quoted(labels: Iterable[Label], move: Move, asked: Asked) -> tuple[Quoted, ...]:
    """Every text that speaks of face, view or mark, in the order of the drawing."""
    found: list[Quoted] = []
    for label in labels:
        text = _plain(label.text)
        at = move.place(label.at[0], label.at[1])
        faces = [int(number) for number in _FACE.findall(text)]
        if faces:
            found.append(Quoted("face", text, at, *_of_face(text, faces, asked)))
        view = _VIEW.search(text)
        if view is not None:
            inside = (view["after"] or view["before"]).casefold() in _INSIDE
            says = Says.LOOK if inside else Says.AGREES
            found.append(
                Quoted("view", text, at, says, f"asked for seen from outside; it says {'inside' if inside else 'outside'}")
            )
        if _MARK.search(text):
            found.append(Quoted("mark", text, at, *_of_mark(text, asked)))
    return tuple(found)


def _plain(text: str) -> str:
    plain = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return plain if len(plain) <= LONGEST else f"{plain[: LONGEST - 1]}…"


def _of_face(text: str, faces: Sequence[int], asked: Asked) -> tuple[Says, str]:
    wanted = f"asked for the print on face {asked.face} of {asked.faces}"
    if asked.face in faces:
        return Says.AGREES, wanted
    if _PRINT.search(text) and all(1 <= face <= asked.faces for face in faces):
        return Says.CONTRADICTS, wanted
    return Says.LOOK, f"{wanted}; the words name face {', '.join(map(str, dict.fromkeys(faces)))}"


def _of_mark(text: str, asked: Asked) -> tuple[Says, str]:
    if not asked.mark:
        return Says.NOT_CHECKED, "the job does not say where the permanent mark stands"
    wanted, said = (set(re.findall(r"[a-z]+", words.casefold())) for words in (asked.mark, text))
    for one, other in _SIDES:
        if (one in wanted and other in said and one not in said) or (other in wanted and one in said and other not in said):
            return Says.CONTRADICTS, f"asked for: {asked.mark}"
    return Says.LOOK, f"asked for: {asked.mark}"


__all__ = ["Asked", "Quoted", "Says", "quoted"]
