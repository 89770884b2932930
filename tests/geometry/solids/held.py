"""What is held of the bodies and sections of a pane, each fault in words; the tests and ``tests/proven_solids.py`` share it."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from math import dist, fsum
from typing import TYPE_CHECKING

from geometry.detail.in_place import bead_in_place
from geometry.outline import area, bounding_box
from geometry.solids import kernel
from geometry.solids.bodies import bodies_of
from geometry.solids.proof import sections_proven
from geometry.workings.fill_masses import fill_masses

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.solids.bodies import Body
    from geometry.solids.kernel import Measures, Shape
    from geometry.workings.subject import Subject

SHARED = 1e-6
"""Part of the smaller of two bodies that they may have in common: contacts are faces, not volumes."""
RECORDED = 1e-6
"""Part by which volumes and centres of the record may differ from those of the bodies."""
NEVER_BY_CONVENTION = {"frame", "glass", "interlayer", "adhesive"}
"""What is prismatic, and what the office signs for strength: no section shows these otherwise than the bodies have them."""


def faults_of(subject: Subject) -> tuple[list[str], int]:
    """Every fault of a pane, and how many differences of its sections are conventions that the proof tells in words."""
    bodies = bodies_of(subject.detail)
    differences = sections_proven(subject.detail, bodies)
    faults = [f"section not proven: {each}" for each in differences if not each.reason or each.material in NEVER_BY_CONVENTION]
    faults += [
        *not_sound(bodies),
        *not_apart(bodies, subject),
        *not_counted(bodies, subject),
        *not_of_the_record(bodies, subject),
    ]
    return faults, len(differences)


def not_sound(bodies: Iterable[Body]) -> list[str]:
    """Bodies in which the kernel finds a fault, or that are open or inside out."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_SHELL

    found = []
    for body in bodies:
        shells = kernel._of_kind(body.shape, TopAbs_SHELL)
        if not kernel.valid(body.shape):
            found.append(f"{body.name} is not valid")
        if not kernel.solids_of(body.shape) or not all(BRep_Tool.IsClosed_s(shell) for shell in shells):
            found.append(f"{body.name} is not closed")
        if not all(kernel.volume(solid).value > 0 for solid in kernel.solids_of(body.shape)):
            found.append(f"{body.name} is inside out")
    return found


def not_apart(bodies: Sequence[Body], subject: Subject) -> list[str]:
    """Pairs of bodies that share a volume. Blocks that overlap in the plan already are a finding's matter, and its finding fails."""
    boxed = [(body, body.shape, box_of(body.shape), kernel.volume(body.shape).value) for body in bodies]
    blocks = {"spacer", "chock"}
    found = []
    for (one, a, box, small), (other, b, room, large) in combinations(boxed, 2):
        if any(min(box[1][i], room[1][i]) - max(box[0][i], room[0][i]) < 1e-9 for i in range(3)):
            continue
        shared = abs(kernel.volume(kernel.common(a, b)).value)
        if shared <= SHARED * min(small, large) or ({one.material, other.material} <= blocks and _told(subject)):
            continue
        if not (subject.detail.glass_cuts_recess and "frame" in (one.material, other.material)):  # the pane fails of it
            found.append(f"{one.name} and {other.name} share {shared:.3f} mm³")
    return found


def box_of(shape: Shape) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Lower and upper corner of the box that holds a shape; as the kernel measures it, without its tolerances."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    box = Bnd_Box()
    BRepBndLib.AddOptimal_s(shape, box, False, False)
    left, right = box.CornerMin(), box.CornerMax()
    return (left.X(), left.Y(), left.Z()), (right.X(), right.Y(), right.Z())


def _told(subject: Subject) -> bool:
    """Whether a finding of the pane fails that tells of blocks on one another."""
    from geometry.findings.check import check_pane

    check = check_pane(subject.job, subject.pane, subject.detail, plate=False, plan=False)
    words = ("spacer", "chock", "block")
    return any(each.verdict.value == "fail" and any(word in each.name for word in words) for each in check.findings)


def not_counted(bodies: Iterable[Body], subject: Subject) -> list[str]:
    """Parts of which there are more or fewer bodies than the parts list counts; glass over the frame leaves blocks no joint."""
    from outputs.sheets.detail_tables import part_rows

    detail = subject.detail
    counts = Counter(body.part for body in bodies if body.material != "interlayer")
    listed = {"frame": 1, "frit": 1, "bead": 1, "glass": sum(ply.material == "glass" for ply in detail.glass.plies)}
    for _, number, part, *_ in part_rows(detail):
        if part == "spacer" or (part in {str(chock.kind) for chock in detail.chocks} and not detail.glass_cuts_recess):
            listed[part] = listed.get(part, 0) + int(number)
    found = [
        f"{part}: {counts[part]} bodies, {number} on the parts list" for part, number in listed.items() if counts[part] != number
    ]
    names = Counter(body.name for body in bodies)
    return found + [f"{count} bodies are called {name}" for name, count in names.items() if count > 1]


def not_of_the_record(bodies: Iterable[Body], subject: Subject) -> list[str]:
    """Volumes, and centres by the size of the pane, of glass, bead and backfill that are not those of the formulas.

    What the formulas themselves call near is held by nothing here; the mass list and the file of bodies say so in words.
    """
    detail, found = subject.detail, fill_masses(subject)
    box = bounding_box(detail.curves.glass)
    size = max(box.width, box.height)
    measured: dict[str, list[Measures]] = {}
    for body in bodies:
        measured.setdefault("glass" if body.material in ("glass", "interlayer", "frit") else body.material, []).append(
            body.volume
        )
    faults = []
    bead = bead_in_place(detail)
    wanted = {
        "glass": (area(detail.curves.glass) * detail.glass.thickness, None),
        "adhesive": (bead.volume, bead.centre) if not bead.about else None,
        "sealant": (found.sealant.ml * 1e3, found.sealant.centre) if not found.sealant.about else None,
    }
    for material, told in wanted.items():
        parts = measured.get(material, [])
        whole = fsum(each.value for each in parts)
        if told is None or (not parts and told[0] == 0):
            continue
        if abs(whole - told[0]) > RECORDED * told[0]:
            faults.append(f"{material}: {whole:.3f} mm³ as bodies, {told[0]:.3f} by the record")
        centre = tuple(fsum(each.value * each.centre[axis] for each in parts) / whole for axis in range(3))
        if told[1] is not None and dist(centre, told[1]) > RECORDED * size:
            faults.append(f"{material}: centre at {centre} as bodies, {told[1]} by the record")
    # what is laid is what is pressed: the volume of the record, section times length of the centre line
    if not found.adhesive.about and abs(found.adhesive.ml * 1e3 - bead.volume) > RECORDED * bead.volume:
        faults.append(f"bead: {found.adhesive.ml * 1e3:.3f} mm³ laid, {bead.volume:.3f} pressed")
    return faults


__all__ = ["NEVER_BY_CONVENTION", "SHARED", "box_of", "faults_of", "not_apart", "not_counted", "not_of_the_record", "not_sound"]
