"""The plan in its room: one that is too large is known before its names are lettered, and its extent is that of its marks."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.job import read_job
from outputs.drawing.plan_basis import plan_basis
from outputs.drawing.plan_options import PlanShows
from outputs.drawing.plan_view import PlanView
from outputs.sheet.boxes import box_round, texts_of
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.pencil import Pencil

SAMPLES = Path(__file__).parents[2] / "samples"
SCALE = 0.2


@pytest.fixture(scope="module")
def detail():
    job = read_job(SAMPLES / "rectangle.toml")
    return build_detail(job, job.panes[0])


def plan(detail, room=None, basis=None):
    return PlanView(detail, Pencil(DraftingStyle(), SCALE), PlanShows(room=room), basis=basis)


def size_of(view):
    left, bottom, right, top = box_round(view.marks, SCALE)
    return (right - left) * SCALE, (top - bottom) * SCALE


def test_a_plan_that_fits_its_room_is_the_one_without_and_one_a_hair_too_large_is_outgrown(detail):
    free = plan(detail)
    wide, high = size_of(free)
    fits = plan(detail, (wide, high))
    assert fits.marks == free.marks and not fits.outgrown and not free.outgrown
    for room in ((wide / 2, high), (wide, high / 2)):
        view = plan(detail, room)
        over = [one > most for one, most in zip(size_of(view), room, strict=True)]
        assert view.outgrown and any(over)  # what stands is too large by itself
        assert len(list(texts_of(view.marks))) < len(list(texts_of(free.marks)))


def test_the_extent_is_the_box_of_the_marks_and_a_known_basis_changes_nothing(detail):
    view = plan(detail, basis=plan_basis(detail, SCALE))
    assert view.extent() == box_round(view.marks, SCALE)
    assert view.marks == plan(detail).marks and view.outcomes == plan(detail).outcomes
