"""Findings of a pane that was measured take what was read; findings that fail by tolerance alone name the tolerances."""

from __future__ import annotations

import re

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.workings.stacks import stacks_of

PANE = '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [10] }\noutline = { rectangle = [1000, 600], radius = 20 }\n'
TIGHT = "bond left at the tightest place"


def check(more: str):
    job = job_of(PANE + more)
    return check_pane(job, job.panes[0], build_detail(job, job.panes[0], cut=False), plate=False)


def finding(more: str, name: str):
    found = [each for each in check(more).findings if each.name == name]
    assert len(found) == 1, name
    return found[0]


BOND = "bond = { width = 15, thickness = 5, notch_width = 10, notch_height = 15 }\nrecess = { depth = 15 }\n"


def test_the_flush_face_takes_the_thickness_that_was_read():
    """5 + 10 − 15 = 0 as ordered; 10.4 was read: 0.4 proud, and the ± 0.3 of the thickness are gone from the worst case."""
    tolerances = "tolerances = { bond_thickness = 0.5, glass_thickness = 0.3, recess_depth = 1, paint = 0.25 }\n"
    name = next(each.name for each in check(BOND).findings if "proud" in each.name)
    ordered, made = finding(BOND + tolerances, name), finding(BOND + tolerances + "made = { thickness = 10.4 }\n", name)
    assert ordered.value == pytest.approx(0.5 + 0.3 + 1 + 0.25) and made.value == pytest.approx(0.4 + 0.5 + 1 + 0.25)
    assert "with the thickness as made, 10,4 mm" in made.says.replace("10.4", "10,4") and "as made" not in ordered.says
    stack = next(
        each for each in stacks_of(check(BOND + tolerances + "made = { thickness = 10.4 }\n").subject) if "flush" in each.name
    )
    assert stack.drawn == pytest.approx(0.4) and stack.worst == pytest.approx(1.75)


def test_the_card_reads_the_same_flush_face():
    found = check(BOND + "made = { thickness = 10.4 }\n").fitting.gaps[0]
    assert found.flush == pytest.approx(0.4)


def test_the_bond_takes_the_bow_that_was_read():
    """Largest gap: bond + spacer + flatness + half of the bow; 1.5 mm/m over 1000 mm are ordered, 4 mm were read over the whole side."""
    held = BOND + "bow = 1.5\nlimits = { bow_share = 50 }\ntolerances = { bond_thickness = 0.5, flatness = 1 }\n"
    name = "bead wets the landing at the widest gap"
    for more, bow in (("", 1.5), ("made = { bow = 4 }\n", 4.0), ("made = { bow = 0 }\n", 0.0)):
        wetted = finding(held + more, name)
        gap = 5 + 0.5 + 1 + bow / 2
        assert float(re.search(r"may reach ([0-9.,]+)", wetted.says)[1].replace(",", ".")) == pytest.approx(gap, abs=0.005)
        assert ("bow as made" in wetted.says) == bool(more)
        assert not [each for each in wetted.remedies if more and "bowed" in each.sentence]


def test_a_bead_that_wets_but_for_the_tolerances_names_them():
    held = BOND.replace("height = 15", "height = 11").replace("notch_width = 10", "notch_width = 13.64")
    held += "bow = 1\nlimits = { bow_share = 50 }\ntolerances = { bond_thickness = 0.5, flatness = 1 }\n"
    found = finding(held, "bead wets the landing at the widest gap")
    assert found.verdict.value == "look"
    assert (
        "tolerances.bond_thickness ±0.5 takes 0.5, tolerances.flatness ±1 takes 1, bow ±1 takes 0.5; worst case 2" in found.says
    )
    # a bead that is too low for the bond as drawn is no matter of tolerances
    low = BOND.replace("height = 15", "height = 6").replace("notch_width = 10", "notch_width = 25")
    assert "takes" not in finding(low, "bead wets the landing at the widest gap").says


def test_a_bond_that_is_thin_by_tolerance_alone_names_what_takes_it():
    held = "bond = { thickness = 3 }\nspacers = { pitch = 1000 }\nbow = 0\ntolerances = { bond_thickness = 0.5, flatness = 1 }\n"
    found = finding(held, TIGHT)
    assert found.verdict.value == "look" and found.value == pytest.approx(1.5)
    assert "tolerances.bond_thickness ±0.5 takes 0.5, tolerances.flatness ±1 takes 1; worst case 1.5" in found.says


@pytest.mark.parametrize(("width", "told"), [(31, True), (29, False), (40, False)])
def test_a_frit_that_is_short_by_the_print_alone_says_so(width, told):
    """Twice a bond of 15 are 30: 31 less 2 of the print falls short by the tolerance, 29 falls short as drawn."""
    found = finding(BOND + f"frit = {{ width = {width} }}\ntolerances = {{ print = 2 }}\n", "frit at least twice the bond width")
    assert ("tolerances.print ±2 takes 2; worst case 2, root of squares 2 mm" in found.says) == told
    assert (found.verdict.value == "pass") == (width == 40)


def test_a_frit_that_covers_but_for_print_and_squeeze_out_names_all_of_them():
    """What the parts take is what lies between the frit as drawn and the one at its worst."""
    held = BOND + "tolerances = { print = 2 }\nbond = { width = 15, thickness = 5, set_back = 14 }\n"
    held = held.replace(BOND.splitlines()[0] + "\n", "")
    name = "frit covers the bead and its squeeze-out"
    at = finding(held + "frit = { width = 60 }\n", name)
    short = finding(held + f"frit = {{ width = {at.limit + 1} }}\n", name)
    assert short.verdict.value != "pass" and "tolerances.print ±2 takes 2" in short.says
    moves = [float(each.replace(",", ".")) for each in re.findall(r"takes ([0-9.,]*[0-9])", short.says)]
    worst = float(re.search(r"worst case ([0-9.]+)", short.says)[1])
    assert sum(moves) == pytest.approx(worst, abs=0.02) and len(moves) >= 3
    stack = next(
        each for each in stacks_of(check(held + f"frit = {{ width = {at.limit + 1} }}\n").subject) if "frit" in each.name
    )
    assert worst == pytest.approx(stack.worst, abs=0.005)


def test_a_small_print_names_its_size():
    name = "frit covers the bead where the print comes out small"
    held = BOND + "tolerances = { print = 2, print_size = 6 }\n"
    limit = finding(held + "frit = { width = 90 }\n", name).limit
    found = finding(held + f"frit = {{ width = {limit + 3} }}\n", name)
    assert found.verdict.value == "look" and "tolerances.print_size ±6 takes 3" in found.says
