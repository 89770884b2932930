"""An outline that is not drawn as it was typed says so, on the sheet, in the record, to a machine and on the terminal alike."""

from __future__ import annotations

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job.reading import job_of
from outputs.commands.findings_print import answers
from outputs.record.data import pane_data
from outputs.record.numbers import printed
from outputs.record.pane_page import pane_page
from outputs.sheets.words import notes, outline_notes

NEARLY_STRAIGHT = """
[[pane]]
code = "A"
outline = { path = [[0, 0], [900, 0, 1e-7], [900, 450], [0, 450]] }
frame = { material = "aluminium" }
glass = { plies = [6] }
recess = { depth = 14 }
"""


def test_a_side_drawn_straight_is_told_everywhere():
    """By hand: the rise of a bulge of 1e-7 on a chord of 450 is 1e-7 x 225 = 0.0000225 mm, under 0.001."""
    job = job_of(NEARLY_STRAIGHT)
    check = check_pane(job, job.panes[0])
    note = "Outline: the sides from points 2 of the path rise under 0.001 mm and are drawn straight."
    assert outline_notes(check.subject.detail) == (note,)
    assert printed(note) in notes(check.subject.detail, origin="")  # a sheet has a decimal comma, as the record
    assert note in pane_data(check)["outline_notes"]
    assert printed(note) in pane_page(job, check, ()).decode()
    assert [(note, [])] in [entries for _, entries in answers(check, False)]


def test_figures_of_a_drawing_have_the_sign_of_their_paper_and_names_stay(tmp_path):
    """Point on the terminal and for a machine, comma on sheet and record; names of files, layers and windows are no figures."""
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    document.layers.add("1.2")
    for start, end in (((0, 0), (900, 0.5)), ((900, 0.8), (900, 450)), ((900, 450), (0, 450)), ((0, 450), (0, 0))):
        space.add_line(start, end, dxfattribs={"layer": "1.2"})
    space.add_text("3.1", dxfattribs={"insert": (400, 200)})
    document.saveas(tmp_path / "deck-1.2.dxf")
    form = '{ drawing = "deck-1.2.dxf", layer = "1.2", label = "3.1", gap = 0.5 }'
    text = NEARLY_STRAIGHT.replace("{ path = [[0, 0], [900, 0, 1e-7], [900, 450], [0, 450]] }", form)
    job = job_of(text, folder=tmp_path)
    detail = check_pane(job, job.panes[0]).subject.detail
    said = "deck-1.2.dxf, layer 1.2, text 3.1: inside, in mm by its header: 1 gap closed, the widest {} mm between (900, {}) and (900, {})."
    assert outline_notes(detail) == ("Outline of the glass from " + said.format("0.3", "0.5", "0.8"),)
    assert notes(detail, origin="")[-1] == "Outline of the glass from " + said.format("0,3", "0,5", "0,8")


def test_an_outline_as_typed_says_nothing():
    job = job_of(NEARLY_STRAIGHT.replace("1e-7", "0.1"))
    check = check_pane(job, job.panes[0])
    assert outline_notes(check.subject.detail) == ()


@pytest.mark.parametrize(
    ("tolerances", "told"),
    [
        ('recess_standard = "ISO 13920-B"', "Frame: ISO 13920-B, recess ±4."),  # as transcribed: 1000 to 2000 mm
        ('recess_standard = "ISO 2768-m"', "Frame: ISO 2768-m, recess ±1,2."),  # as transcribed: 1000 to 2000 mm
        ('recess_standard = "ISO 13920-B", recess = 1.5', "Frame: ISO 13920-B, recess ±1,5."),
        ("recess = 2.5", "Frame: recess ±2,5."),
        ("recess = 0", "Frame: recess as measured."),
    ],
)
def test_the_note_on_the_frame_names_the_class_chosen_or_the_figure_that_holds(tolerances, told):
    job = job_of(
        '[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = { plies = [8] }\noutline = { rectangle = [1400, 450] }\n'
        f"tolerances = {{ {tolerances} }}\n"
    )
    detail = build_detail(job, job.panes[0], cut=False)
    assert [note for note in notes(detail, origin="V1") if told in note]
