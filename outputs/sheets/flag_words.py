"""The findings in the few words that a row of the flags holds, and their figures as a reader of the sheet wants them.

Terms
-----
short name
    What the finding is called where its own name is wider than the column; the number is the same on every document.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import Finding, Side, Verdict
from outputs.sheet.drafting import coordinate, number

if TYPE_CHECKING:
    from geometry.findings.state import Flag

SHORT = {
    "approval reference given where the pane carries load or is in the hull": "approval reference",
    "light in the hull within the glazed diameter that needs no special consideration": "glazed diameter, hull",
    "deck light flush as drawn": "deck light flush",
    "deck light released by the one who answers for the load on it": "deck light released",
    "joint left open for the first days of cure": "joint open in first days",
    "bead cured through before the joint is closed": "cured before backfill",
    "inner face of the bead open while it cures": "inner face open to air",
    "cured bead carries the pane with the handling safety": "carries in handling",
    "pane may be handled before the launch": "handled before launch",
    "bead cured through before the launch": "cured before launch",
    "pane carried by enough people or by lifting gear": "people or lifting gear",
    "suction cups enough for the pane": "suction cups",
    "last press within its share of the open time": "last press in open time",
    "primed faces wetted within the longest wait": "primed faces in time",
    "surface above the dew point by the margin": "above the dew point",
    "air no damper than bonding allows": "air too damp",
    "surface no colder than bonding allows": "surface too cold",
    "surface no warmer than bonding allows": "surface too warm",
    "pane in one bonding session": "in one session",
    "crew of the session large enough for the pane": "crew of the session",
    "guns of the session enough for the bead": "guns of the session",
    "pane pressed home before its session ends": "before session ends",
    "later reading of the session taken before the bead that it holds for": "reading before bead",
    "climate of the pane that of its session": "climate of session",
    "nobody in two sessions at the same time": "people, two sessions",
    "re-entrant corner round enough for the furnace": "re-entrant radius",
    "cut-out small against the pane": "cut-out against pane",
    "pane large enough to toughen": "size to toughen",
    "joint left in every corner": "joint left in corners",
    "bead on the landing in every corner": "bead on landing, corner",
    "glass beyond the bead in a corner": "glass beyond the bead",
    "frit covers the bead in every corner": "frit over bead, corner",
    "corners round enough for the bead": "round enough for bead",
    "bead no tighter than the gun turns": "bead turns for the gun",
    "bond wide enough to be laid": "bond wide enough",
    "bond thin enough for one pass": "bond thin, one pass",
    "bond left at the tightest place": "bond at tightest place",
    "frit at least twice the bond width": "frit twice the bond",
    "frit covers the bead and its squeeze-out": "frit over bead, overspill",
    "frit covers the bead where the print comes out small": "frit, print small",
    "landing hidden behind the frit": "landing hidden by frit",
    "bead and its squeeze-out on the landing": "overspill on landing",
    "bead clear of the unprinted edge": "bead clear of bare edge",
    "fillet clear of spacer and bead": "fillet clear of bead",
    "glass not too proud at the worst tolerances": "glass not too proud",
    "words of the printed face as asked": "words, printed face",
    "words of the permanent mark as asked": "words, mark",
    "drawn from the side that was issued": "side as issued",
    "mirror image of the pane of the other hand": "mirror of the pair",
    "surveyed landing flat enough for the bond": "landing flat enough",
    "no point of the survey stands out": "survey: no outlier",
    "the recess itself was surveyed": "this recess surveyed",
    "stations of the survey close enough": "survey stations close",
    "glass not too proud at any surveyed station": "not too proud, survey",
    "glass not too sunk at any surveyed station": "not too sunk, survey",
    "bond left where the surveyed recess is shallowest": "bond where shallowest",
    "bead and its squeeze-out on the landing at every surveyed station": "on landing, survey",
    "rake as drawn or surveyed": "rake as surveyed",
    "spacer block large enough to stand": "spacer large enough",
    "spacer clear of the bead": "spacer clear of bead",
    "spacer blocks clear of one another": "spacers clear",
    "spacer block within the straight of its edge": "spacer on the straight",
    "joint wide enough for nozzle and tool": "joint wide for the tool",
    "backfill held by the glass edge": "backfill on glass edge",
    "bond width in proportion to its thickness": "width by thickness",
    "bead wets the landing at the widest gap": "bead wets widest gap",
    "uncured bead stands on its base": "uncured bead stands",
    "uncured bead low enough for one pass": "uncured bead, one pass",
    "nozzle wide enough for the V-notch": "nozzle for the notch",
    "spacers not much harder than the bond": "spacers not too hard",
    "permanent stress of the bond": "permanent bond stress",
    "permanent stress if the chocks were taken out": "stress without chocks",
    "uncured bead holds the pane": "uncured bead holds",
    "uncured bead holds the pane as the vessel moves": "uncured bead, moving",
    "uncured bead holds the pane as the vessel heels": "uncured bead, heeled",
    "joint left at the worst tolerances": "joint left, worst case",
    "joint not too wide at the worst tolerances": "joint widest, worst case",
    "sealant strain within its movement class": "sealant strain",
    "sealant strain in the rounded corners within its movement class": "sealant strain, corners",
    "tolerance of the pane covers the step of its plies": "tolerance over ply step",
    "outward pressure covers the suction of the wind named": "outward over wind",
    "glass thick enough for its allowed stress under pressure": "glass thick enough",
    "stress of the glass under the load on a part of it": "glass under part load",
    "heat stress at the edge of annealed glass": "heat stress, edge",
    "bending stress of the glass": "glass bending stress",
    "tension along the bead at its widest gap, pane bent on it": "bead tension, wide gap",
    "tension and shear of the bead used together": "bead tension and shear",
    "bearing stress on the chocks as the vessel moves": "chocks bear, moving",
    "shear of the bead as the frame racks": "bead shear, racking",
    "sill level enough for friction, or blocked at its low end": "sill level or blocked",
    "chocks of a height that can be had": "chock height to be had",
    "chocks clear of the corners": "chocks clear of corners",
    "tension of the bead where a load on a part of the glass lifts the pane": "bead tension, part load",
    "stress of the glass under the load on a part of it, pane bent on its bead": "glass under part load",
    "sill holds the pane as the vessel heels": "sill holds, heeled",
    "shear of the bead from heat": "bead shear from heat",
    "bond tension at the widest gap": "bond tension, wide gap",
    "peel of the bead's edge as the pane bends": "bead edge peel",
    "glass bears on its chocks": "glass bears on chocks",
    "backfill closes over the chocks": "backfill over chocks",
    "each chock carries its share of the weight": "share of each chock",
    "weight of the round pane passes between its chocks": "weight between chocks",
    "bearing stress on the chocks": "chocks bear",
    "tension along the bead, pane bent on it": "bead tension",
    "peel of the bead's edge, pane bent on it": "bead edge peel",
    "bending of the pane within linear theory": "past linear theory",
    "error of the plate's mesh": "mesh error",
    "straight block on a curved edge has its height": "block on a curved edge",
    "activated faces primed within the longest wait": "activated faces in time",
    "glass not too sunk at the worst tolerances": "glass not too sunk",
    "sealant strain as the frame racks": "sealant strain, racking",
    "sealant strain in the rounded corners as the frame racks": "sealant, corners rack",
    "stress of the glass under pressure, pane bent on its bead": "glass stress, on its bead",
    "tension of the bead where inward pressure lifts the pane": "bead tension, lifted",
}
"""Short names by the name of the finding; a finding that is not here has a name that fits."""

FEATURES = {
    "frit at least twice the bond width": "frit",
    "frit covers the bead and its squeeze-out": "frit",
    "frit covers the bead where the print comes out small": "frit",
    "landing hidden behind the frit": "landing",
    "bead and its squeeze-out on the landing": "landing",
    "bead clear of the unprinted edge": "frit start",
    "fillet clear of spacer and bead": "foot",
    "glass not too proud at the worst tolerances": "glass",
    "deck light flush as drawn": "glass",
    "joint wide enough for nozzle and tool": "joint",
    "joint left at the worst tolerances": "joint",
    "joint not too wide at the worst tolerances": "joint",
    "backfill deep enough": "joint",
    "backfill held by the glass edge": "joint",
    "room for the backer": "joint",
    "backfill closes over the chocks": "joint",
    "glass bears on its chocks": "chock",
    "chocks of a height that can be had": "chock",
    "bearing stress on the chocks": "chock",
    "squash of the chocks": "chock",
    "bond width in proportion to its thickness": "bead",
    "bond wide enough to be laid": "bead",
    "bond thick enough": "bead",
    "bond thin enough for one pass": "bead",
    "bond left at the tightest place": "bead",
    "bead wets the landing at the widest gap": "bead",
    "bond tension at the widest gap": "bead",
    "shear of the bead from heat": "bead",
    "tolerance of the pane covers the step of its plies": "glass edge",
}
"""What of a section a finding speaks of, by its name, where it holds all round or of the section itself."""

STATE_OF = {Verdict.FAIL: "FAIL", Verdict.LOOK: "LOOK", Verdict.NOT_CHECKED: "OPEN", Verdict.PASS: "PASS"}
SIGN_OF = {Side.AT_LEAST: "≥", Side.AT_MOST: "≤"}
OVERLAPS = ("joint left in every corner", "joint left at the worst tolerances")
SHOWS = ("landing hidden behind the frit",)


def short_name(finding: Finding) -> str:
    """The name of a finding in the words that a row holds."""
    for usual in (" of a usual size", " of a usual order"):
        if finding.name.endswith(usual):
            return f"usual {finding.name.removesuffix(usual)}"
    return SHORT.get(finding.name, finding.name)


def figures(finding: Finding) -> tuple[str, str, str]:
    """What is, what is wanted with its sign, and the unit of both; what lies below nothing in words, for no figure of a sheet is negative."""
    if finding.value is None or finding.limit is None:
        return "not given", "", ""
    sign = SIGN_OF[finding.side]
    if finding.counted and finding.value == 0 and finding.limit == 1:
        return "none given", "one", ""
    if finding.counted:
        return "none given" if finding.value == 0 else number(finding.value), f"{sign} {number(finding.limit)}", ""
    decimals = _decimals(finding)
    wanted = f"{sign} {number(finding.limit, decimals=decimals)}"
    if finding.value < 0:
        word = "overlap" if finding.name in OVERLAPS else "shows" if finding.name in SHOWS else "off by"
        return f"{word} {number(-finding.value, decimals=1 if finding.value < -1.0 else decimals)}", wanted, finding.unit
    return number(finding.value, decimals=decimals), wanted, finding.unit


def _decimals(finding: Finding) -> int:
    """As many as tell the value from the limit, one or two as a rule."""
    value, limit = abs(finding.value or 0.0), abs(finding.limit or 0.0)
    least = 0 if min(value, limit) >= 100 or finding.unit == "%" else 1 if min(value, limit) >= 1 else 2
    for decimals in (least, 2, 3, 4):
        if decimals >= least and number(value, decimals=decimals) != number(limit, decimals=decimals):
            return decimals
    return least


def place_of(flag: Flag) -> str:
    """Where the finding is: its part, or the coordinates of its place as the title of a section through it has them, or how far it reaches."""
    finding = flag.finding
    if finding.part:
        return finding.part
    if finding.at is not None:
        return "; ".join(coordinate(each) for each in finding.at[:2])
    return finding.where if len(finding.where) <= 12 else ""


__all__ = ["FEATURES", "SHORT", "STATE_OF", "figures", "place_of", "short_name"]
