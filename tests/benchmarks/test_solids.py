"""Bodies and STEP of a pane next to what loading the kernel alone takes; ``solids_of_many.py`` beside this measures a whole vessel."""

from __future__ import annotations

import statistics

from outputs.drawing.solid_parts import solid_parts
from outputs.files.step import step_bytes
from outputs.files.step_text import Header


def step_of(detail):
    """Bodies of a detail and their STEP file."""
    from geometry.solids.bodies import bodies_of

    return step_bytes(detail.code, solid_parts(detail, bodies_of(detail)), Header(detail.code, ""))


def test_bodies_and_step_of_the_ten_panes(benchmark, row, panes, process, seconds, forget):
    """Median of the ten and the slowest, an ellipse of eighty arcs, next to importing OCP in a fresh process."""
    mine: list[list[float]] = [[] for _ in panes]
    alone: list[float] = []
    sizes = [len(step_of(detail)) for _, _, detail in panes]

    def work():
        for number, (_, _, detail) in enumerate(panes):
            forget()
            mine[number].append(seconds(lambda given=detail: step_of(given)))

    benchmark.pedantic(work, setup=lambda: alone.append(process("-c", "import OCP").seconds), rounds=3, iterations=1)
    least, loading = [min(each) for each in mine], min(alone)
    against = "importing OCP"
    middle = f"bodies and STEP of one pane ({statistics.median(sizes) / 1e6:.2f} MB), median of ten"
    row(middle, statistics.median(least), against, loading, target=0.5)
    slowest = max(range(len(panes)), key=least.__getitem__)
    row(
        f"the slowest of the ten, {panes[slowest][2].code} ({sizes[slowest] / 1e6:.2f} MB)",
        least[slowest],
        against,
        loading,
        target=0.5,
    )


def test_the_proof_of_a_pane(compare, panes):
    """Holding the four sections of a pane against the cuts of its bodies."""
    from geometry.solids.bodies import bodies_of
    from geometry.solids.proof import sections_proven

    detail = panes[0][2]
    bodies = bodies_of(detail)
    compare(
        "sections of a pane held against its bodies",
        lambda: sections_proven(detail, bodies),
        "bodies and STEP of the pane",
        lambda: step_of(detail),
        target=2.0,
    )
