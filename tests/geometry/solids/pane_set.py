"""The panes that bodies and sections are held on: every pane of every sample, odd ones, and random ones of ``tests/random_panes.py``.

A pane is made when it is asked for. The same names give the same panes every time.
"""

from __future__ import annotations

from functools import cache
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.workings.subject import Subject

ROOT = Path(__file__).parents[3]
NO_JOBS = ("office.toml",)  # defaults that other jobs take up
SEED = 100_000
"""The first seed of the random panes, as ``python tests/random_panes.py --seed 1`` takes it."""

PANE = '[[pane]]\ncode = "X"\nframe = "grp"\n'
SIZES = "joint = { width = 6, backfill_depth = 6 }\nbond = { width = 15, thickness = 5, set_back = 8 }\nfrit = { width = 40 }\n"
PLIES = "glass = { plies = [10] }\n"
RECTANGLE = "outline = { rectangle = [1200, 600], radius = 60 }\n"
RE_ENTRANT = "outline = {{ polygon = [[0, 0], [900, 0], [900, 400], [500, 400], [500, 700], [0, 700]], radius = {} }}\n"
PLAIN = "recess = { depth = 15, landing = 40 }\n"
ODD = {
    "plain": PLIES + SIZES + RECTANGLE + PLAIN,
    "draft and fillet": PLIES + SIZES + RECTANGLE + "recess = { depth = 15, landing = 40, draft = 3, fillet = 3 }\n",
    "fillet under the bead": PLIES + SIZES + RECTANGLE + "recess = { depth = 25, landing = 40, fillet = 16, draft = 2 }\n",
    "proud of the skin": PLIES + SIZES + RECTANGLE + "recess = { depth = 13, landing = 40 }\n",
    "sharp corners": PLIES + SIZES + "outline = { rectangle = [700, 500] }\n" + PLAIN,
    "sharp corners, draft": PLIES + SIZES + "outline = { rectangle = [700, 500] }\nrecess = { depth = 15, landing = 40, draft = 2 }\n",
    "small corners": PLIES + SIZES + "outline = { rectangle = [700, 500], radius = 10 }\n" + PLAIN,
    "re-entrant": PLIES + SIZES + RE_ENTRANT.format(30) + PLAIN,
    "re-entrant, sharp": PLIES + SIZES + RE_ENTRANT.format(0) + PLAIN,
    "re-entrant and proud": PLIES + SIZES + RE_ENTRANT.format(30) + "recess = { depth = 13.5, landing = 40 }\n",
    "re-entrant, draft and fillet": PLIES + SIZES + RE_ENTRANT.format(30) + "recess = { depth = 18, landing = 40, draft = 2, fillet = 2 }\n",
    "circle": PLIES + SIZES + "outline = { circle = 640 }\n" + PLAIN,
    "circle, draft and fillet": PLIES + SIZES + "outline = { circle = 640 }\nrecess = { depth = 18, landing = 40, draft = 3, fillet = 3 }\n",
    "ellipse": PLIES + SIZES + "outline = { ellipse = [900, 520] }\n" + PLAIN,
    "ellipse, draft and fillet": PLIES + SIZES + "outline = { ellipse = [900, 520] }\nrecess = { depth = 18, landing = 40, draft = 3, fillet = 3 }\n",
    "stadium": PLIES + SIZES + "outline = { path = [[0, 0], [600, 0, 1], [600, 400], [0, 400, 1]] }\n" + PLAIN,
    "bent sides": PLIES + SIZES + "outline = { path = [[0, 0, 0.05], [900, 0, 0.2], [900, 500, 0.15], [0, 500]] }\n" + PLAIN,
    "tilted": PLIES + SIZES + "rake = -15\n" + RECTANGLE + PLAIN,
    "tilted square on its corner": PLIES + SIZES + "rake = 35\noutline = { polygon = [[300, 0], [0, 300], [-300, 0], [0, -300]], radius = 10 }\n" + PLAIN,
    "deck light": PLIES + SIZES + "rake = 90\n" + RECTANGLE + PLAIN,
    "laminated": "glass = { plies = [6, 4, 6], interlayers = [1.52, 0.76] }\n" + SIZES + RECTANGLE + "recess = { depth = 24, landing = 40 }\n",
    "bare rim": PLIES + SIZES.replace("width = 40", "width = 40, start = 2") + RECTANGLE + PLAIN,
    "wall of its own": PLIES + SIZES + RECTANGLE
    + "recess = { depth = 15, landing = 40, outline = { rectangle = [1216, 610], radius = 40 } }\n",
    "wall of its own, askew": PLIES + SIZES + RECTANGLE
    + "recess = { depth = 13, landing = 40, outline = { polygon = [[-8, -5], [1207, -7], [1209, 608], [-6, 606]], radius = 50 } }\n",
    "wall of its own, re-entrant": PLIES + SIZES + RE_ENTRANT.format(30)
    + "recess = { depth = 13, landing = 40, outline = { polygon = [[-6, -6], [907, -7], [906, 408], [507, 407], [506, 706], [-7, 706]], radius = 30 } }\n",
    "glass greater than its recess": "glass = { plies = [8] }\noutline = { rectangle = [900, 450] }\nrecess = { outline = { rectangle = [880, 430] } }\n",
}  # fmt: skip
CANNOT_RUN = "outline = { polygon = [[0, 0], [900, 0], [900, 400], [470, 400], [470, 30], [430, 30], [430, 400], [0, 400]] }\n"
"""An outline with a neck of 30 mm, through which no bead of 15 mm runs."""


def samples() -> list[tuple[str, str]]:
    """Every job among the samples with the code of each of its panes."""
    return [
        (path.name, pane.code)
        for path in sorted((ROOT / "samples").glob("*.toml"))
        if path.name not in NO_JOBS
        for pane in sample_job(path.name).panes
    ]


@cache
def sample_job(name: str) -> Any:
    """A job of the samples, read once."""
    return read_job(ROOT / "samples" / name)


def random_text(seed: int) -> str:
    """The job of a random pane."""
    return str(_random_panes().random_job(seed)[1])


@cache
def _random_panes() -> Any:
    found = spec_from_file_location("random_panes", ROOT / "tests" / "random_panes.py")
    assert found is not None and found.loader is not None
    module = module_from_spec(found)
    found.loader.exec_module(module)
    return module


def subject_of(name: str) -> Subject:
    """The pane of a name: "sallow-wren.toml SW-01", "odd ellipse", "random 100003". Raises ``DetailError`` as ``draw`` does."""
    kind, _, rest = name.partition(" ")
    if kind == "odd":
        job = job_of(PANE + ODD[rest])
    elif kind == "random":
        job = job_of(random_text(int(rest)))
    else:
        job = sample_job(kind)
    pane = next((pane for pane in job.panes if pane.code == rest), job.panes[0])
    return Subject(job, pane, build_detail(job, pane))


def names(random: int = 30) -> list[str]:
    """All names, with so many random panes."""
    found = [f"{name} {code}" for name, code in samples()]
    return [*found, *(f"odd {name}" for name in ODD), *(f"random {seed}" for seed in range(SEED, SEED + random))]


__all__ = [
    "CANNOT_RUN",
    "ODD",
    "PANE",
    "PLAIN",
    "PLIES",
    "ROOT",
    "SEED",
    "SIZES",
    "names",
    "random_text",
    "samples",
    "subject_of",
]
