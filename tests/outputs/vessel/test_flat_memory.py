"""Nothing of a pane stays when the next one is drawn: what lives on is counted, object by object, not measured in megabytes."""

from __future__ import annotations

import functools
import gc
import sys
from collections import Counter

import pytest

from geometry.job import job_of
from geometry.outline.loop import Outline, Point
from outputs.commands.memory import forget_pane
from outputs.vessel.one_pane import Asked, Drawn
from outputs.vessel.pool import panes_drawn

ASKED = Asked(plate=False, documents=("label", "pane"), formats=("svg",))
PANES = 6
HEAD = 'frame = "aluminium"\nglass = { plies = [8] }\nbond = { width = 18, thickness = 6 }\nrecess.depth = 22\n'


def job():
    """Panes of one form in sizes of their own: of each as much is kept as of the one before."""
    forms = (f"outline = {{ rectangle = [{700 + 13 * i}, {400 + 7 * i}], radius = 60 }}\n" for i in range(PANES))
    return job_of(HEAD + "".join(f'[[pane]]\ncode = "W{index}"\n{form}' for index, form in enumerate(forms)))


def kept_without_bound() -> dict[str, int]:
    """How much each function of the program keeps that may keep any number of things."""
    functions = [
        each
        for name, module in list(sys.modules.items())
        if name.startswith(("geometry.", "outputs."))
        for each in list(vars(module).values())
        if isinstance(each, functools._lru_cache_wrapper) and each.__module__ == name
    ]
    return {
        f"{each.__module__}.{each.__qualname__}": each.cache_info().currsize
        for each in functions
        if each.cache_parameters()["maxsize"] is None
    }


@pytest.fixture(scope="module")
def lived():
    """After each pane: how many points and outlines live, and what is kept without bound."""
    forget_pane()  # what other tests left
    found = []
    before = gc.get_threshold()
    try:
        for _, result in panes_drawn(job(), range(PANES), ASKED, workers=1):
            assert isinstance(result, Drawn)
            del result
            gc.collect()
            kinds = Counter(type(each) for each in gc.get_objects() if type(each) in (Point, Outline))
            found.append((kinds[Point], kinds[Outline], kept_without_bound()))
    finally:
        gc.unfreeze()
        gc.set_threshold(*before)
    return found


def test_no_shape_of_a_pane_lives_on_when_it_is_drawn(lived):
    """A pane of this form brings a thousand points and tens of outlines; the job itself holds its outline, of a dozen points."""
    points, outlines = ([each[kind] for each in lived[1:]] for kind in (0, 1))
    assert points[-1] - points[0] <= 50 * (PANES - 2)
    assert outlines[-1] - outlines[0] <= 5 * (PANES - 2)


def test_what_is_kept_without_bound_is_of_the_program_and_not_of_a_pane(lived):
    """Fonts, signatures, tables: complete after two panes. A text, a width or an outline that is kept for ever would be one more each pane."""
    assert {name: (lived[1][2].get(name, 0), now) for name, now in lived[-1][2].items() if now > lived[1][2].get(name, 0)} == {}
    assert len(lived[-1][2]) > 5
