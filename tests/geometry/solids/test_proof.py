"""The drawn sections against cuts of the bodies: true on the samples, and told in words where a section is not what a saw would show."""

from __future__ import annotations

from dataclasses import replace
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.detail.parts import CutFace, Detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.solids import kernel, proof
from geometry.solids.bodies import bodies_of
from geometry.solids.proof import sections_proven

SAMPLES = Path(__file__).parents[3] / "samples"
CHOSEN = [
    ("sallow-wren.toml", ("SW-03", "SW-09", "SW-10")),
    ("every-key.toml", ("K-1", "K-3-P", "K-5", "K-9")),
    *(
        (f"{name}.toml", ())
        for name in [
            "as-made",
            "circle",
            "deck-light",
            "from-drawing",
            "minimal",
            "own-recess",
            "pair",
            "path",
            "polygon",
            "proud",
            "rectangle",
            "refit",
            "sessions",
        ]
    ),
]
"""Of every sample the panes that differ in kind; of the ellipses one, below."""


def details(name: str, codes: tuple[str, ...]) -> list[Detail]:
    job = read_job(SAMPLES / name)
    return [build_detail(job, pane) for pane in job.panes if not codes or pane.code in codes][: len(codes) or 1]


@pytest.mark.parametrize(("name", "codes"), CHOSEN, ids=[name for name, _ in CHOSEN])
def test_sections_of_the_samples_are_true_but_for_conventions(name: str, codes: tuple[str, ...]) -> None:
    for detail in details(name, codes):
        differences = sections_proven(detail)
        assert not [str(each) for each in differences if not each.reason]
        # what is prismatic, and what the office signs for strength, has no conventions
        assert not {each.material for each in differences} & {"frame", "glass", "interlayer", "adhesive"}


def test_an_ellipse_of_many_arcs_is_cut_where_it_is_drawn() -> None:
    (detail,) = details("ellipse.toml", ())
    assert not {each.material for each in sections_proven(detail)} & {"frame", "glass", "interlayer", "adhesive"}


def test_upright_straight_panes_have_no_difference_at_all() -> None:
    for detail in details("sallow-wren.toml", ("SW-01", "SW-02", "SW-05", "SW-06", "SW-08")):
        assert sections_proven(detail) == ()


def test_a_chock_that_a_section_passes_through_and_does_not_draw_is_told_without_an_excuse() -> None:
    (detail,) = details("sallow-wren.toml", ("SW-01",))
    section = next(each for each in detail.sections if each.chock is not None)
    drawn = replace(section, faces=tuple(face for face in section.faces if face.material != "chock"), chock=None)
    (found,) = sections_proven(replace(detail, sections=(drawn,)))
    assert str(found).startswith("section A, chock: not drawn, the plane cuts 1 face, ")
    assert found.reason == ""


@pytest.mark.parametrize("material", ["frame", "glass", "adhesive", "sealant", "backer"])
def test_a_section_drawn_a_hundredth_off_is_found(material: str) -> None:
    (detail,) = details("sallow-wren.toml", ("SW-01",))
    section = next(each for each in detail.sections if each.letter == "C")

    def moved(face: CutFace) -> CutFace:
        (x, z, bulge), *rest = face.nodes
        return CutFace(face.material, ((x, z - 0.01, bulge), *rest))

    faces = tuple(moved(face) if face.material == material else face for face in section.faces)
    (found,) = sections_proven(replace(detail, sections=(replace(section, faces=faces),)))
    assert (found.material, found.reason) == (material, "")
    assert "area drawn" in found.found
    assert "a node lies 0.0100 mm" in found.found


@pytest.mark.parametrize("code", ["SW-01", "SW-04"])
def test_what_a_section_passes_over_without_a_cut_has_nothing_in_its_plane(code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The cut itself is asked of every body that the boxes would leave out: the proof may be cheaper, never blind."""
    (detail,) = details("sallow-wren.toml", (code,))
    plain, left_out, cut = kernel.apart, [], []

    def asked(shape: object, window: object) -> bool:
        apart = plain(shape, window)
        (left_out if apart else cut).append(kernel.faces_of(kernel.common(shape, window)))
        return apart

    monkeypatch.setattr(kernel, "apart", asked)
    sections_proven(detail)
    assert left_out and not any(left_out)
    assert len([faces for faces in cut if faces]) > 4 * len(detail.sections)


@pytest.mark.parametrize(
    ("name", "code"), [("sallow-wren.toml", "SW-01"), ("sallow-wren.toml", "SW-04"), ("every-key.toml", "K-3-P")]
)
def test_bodies_cut_at_once_are_those_cut_one_by_one(name: str, code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    (detail,) = details(name, (code,))
    shapes = [body.shape for body in bodies_of(detail)]
    planes = [proof._plane(section, detail.curves.glass) for section in detail.sections]
    plain, tools = kernel.common, []
    monkeypatch.setattr(kernel, "common", lambda one, other: (tools.append(len(kernel.faces_of(other))), plain(one, other))[1])
    at_once = [dict(proof._cuts_of(shape, planes)) for shape in shapes]
    assert max(tools) > 1  # several windows in one cut
    one_by_one = [
        {index: cut for index, plane in enumerate(planes) for _, cut in proof._cuts_of(shape, [plane])} for shape in shapes
    ]
    for found, held in zip(at_once, one_by_one, strict=True):
        assert found.keys() == held.keys()
        for index, cut in found.items():
            same, other = kernel.surface(cut), kernel.surface(held[index])
            assert same.value == pytest.approx(other.value, rel=1e-9)
            assert same.centre == pytest.approx(other.centre, abs=1e-9)


def test_windows_that_meet_do_not_cut_at_once() -> None:
    """The same section twice: each finds the whole face, none a part of it."""
    (detail,) = details("sallow-wren.toml", ("SW-01",))
    plane = proof._plane(detail.sections[2], detail.curves.glass)
    for body in bodies_of(detail):
        found = dict(proof._cuts_of(body.shape, [plane, plane]))
        assert found.keys() in ({0, 1}, set())
        assert len({round(kernel.surface(cut).value, 9) for cut in found.values()}) < 2


def test_a_bar_on_its_side_is_not_upright() -> None:
    """A round of a bar along x is a cylinder that lies; a prism of arcs stands."""
    (detail,) = details("sallow-wren.toml", ("SW-04",))
    assert kernel.upright(kernel.prism(detail.curves.glass, 0.0, 5.0))
    assert not kernel.upright(kernel.bar(((0.0, 0.0, 0.0), (4.0, 0.0, 1.0), (4.0, 4.0, 0.0), (0.0, 4.0, 0.0)), 10.0))


def _random_job(seed: int) -> str:
    found = spec_from_file_location("random_panes", SAMPLES.parent / "tests" / "random_panes.py")
    assert found is not None and found.loader is not None
    module = module_from_spec(found)
    found.loader.exec_module(module)
    return str(module.random_job(seed)[1])


@pytest.mark.parametrize("seed", [3, 11, 12, 18, 33])
def test_random_panes_have_valid_bodies_and_true_sections(seed: int) -> None:
    job = job_of(_random_job(seed))
    detail = build_detail(job, job.panes[0])
    bodies = bodies_of(detail)
    assert not [body.name for body in bodies if not kernel.valid(body.shape) or body.volume.value <= 0]
    assert not [str(each) for each in sections_proven(detail, bodies) if not each.reason]
