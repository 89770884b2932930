"""Outlines that stand in a file of somebody else: which keys say what of it is meant, and how it is read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.job.refusal import Elsewhere, refuse

if TYPE_CHECKING:
    from geometry.incoming import Incoming, IncomingError
    from geometry.job.opened import Opened
    from geometry.job.outlines import OutlineForm

FILES = ("drawing", "survey", "solid")
"""Forms of an outline in a file."""
ONLY_WITH: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("layer", "at", "label", "block", "layout", "gap"), ("drawing",)),
    "arcs_within": ("drawing", "solid"),
    **dict.fromkeys(("face", "up"), ("solid",)),
    **dict.fromkeys(("units", "seen_from"), FILES),
}
"""Keys that say what of a file is meant, and the forms beside which they may stand."""


def nothing_astray(form: OutlineForm, given: str) -> None:
    """Refuse an empty name, and what is said of a file beside a form that has none of it."""
    if given in FILES and not (getattr(form, given) or "").strip():
        raise refuse("found an empty name", "the name of a file", key=given)
    for key, forms in ONLY_WITH.items():
        if key in form.model_fields_set and given not in forms:
            only = f"{', '.join(forms[:-1])} or {forms[-1]}" if len(forms) > 1 else forms[0]
            raise refuse(f"found {key} beside {given}", f"{key} only with {only}", key=key)


def read_from(form: OutlineForm, opened: Opened) -> Incoming:
    """What the file of an outline gives. Raises the refusal of a value."""
    from geometry.incoming import IncomingError

    try:
        return _read(form, opened)
    except IncomingError as error:
        key = error.key if error.key in type(form).model_fields else form.form
        raise refuse(error.found, error.allowed, error.hint, key=key, elsewhere=_in_its_file(error)) from None


def _read(form: OutlineForm, opened: Opened) -> Incoming:
    if form.survey is not None:
        asked = {"seen_from": form.seen_from} if "seen_from" in form.model_fields_set else {}
        return opened.survey(form.survey, units=form.units, radius=form.radius, **asked)
    if form.solid is not None:
        from geometry.incoming.solid import SolidPick

        return opened.solid(form.solid, SolidPick(form.face, form.units or "", form.seen_from, form.up, form.arcs_within))
    from geometry.incoming.drawing import Pick

    pick = Pick(
        layer=form.layer or "",
        units=form.units or "",
        at=form.at,
        label=form.label or "",
        block=form.block or "",
        layout=form.layout or "",
        seen_from=form.seen_from,
        gap=form.gap,
        within=form.arcs_within,
    )
    return opened.drawing(form.drawing or "", pick)


def _in_its_file(error: IncomingError) -> tuple[Elsewhere, ...]:
    """The faults of a survey, each with its line; none where all are of the whole file, which the line of the job tells better."""
    from geometry.incoming.survey_faults import MOST_TOLD, SurveyError

    if not isinstance(error, SurveyError) or not any(fault.line for fault in error.faults):
        return ()
    told = [Elsewhere(error.name, *fault) for fault in error.faults[:MOST_TOLD]]
    more = len(error.faults) - len(told)
    return (*told, *([Elsewhere(error.name, 0, 0, f"and {more} more")] if more else []))


__all__ = ["FILES", "ONLY_WITH", "nothing_astray", "read_from"]
