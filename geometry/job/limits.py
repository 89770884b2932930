"""The limits that the findings of a pane are held against: every one may be set in the job file.

What is marked "common practice, no source" or "from memory" stands in for the rule, standard or data sheet that governs.
"""

from __future__ import annotations

import itertools
from typing import Annotated

from pydantic import model_validator

from geometry.job import fields as f
from geometry.job.fields import ListOf, Measure, Reads, Table, setting
from geometry.job.refusal import refuse

Factor = Annotated[float, Measure("number", "", above=0, at_most=100)]
FactorOrZero = Annotated[float, Measure("number", "", at_least=0, at_most=100)]
Step = Annotated[float, Measure("length", "mm", at_least=0.1, at_most=50)]
Bow = Annotated[float, Measure("slope", "mm/m", at_least=0, at_most=50)]
LengthPerArea = Annotated[float, Measure("length per area", "mm/m2", at_least=0, at_most=10_000)]
Rake = Annotated[float, Measure("angle", "deg", above=0, at_most=90)]
Corner = Annotated[float, Measure("angle", "deg", above=0, at_most=180)]
Oversize = Annotated[float, Measure("number", "", at_least=1, at_most=2)]
NotchTimes = Annotated[float, Measure("number", "", at_least=2, at_most=10)]
Degrees = Annotated[float, Measure("temperature difference", "K", at_least=0, at_most=50)]
HardnessStep = Annotated[float, Measure("hardness", "Shore A", at_least=0, at_most=100)]
Difference = Annotated[float, Measure("length", "mm", at_least=0.05, at_most=20)]
WindSpeed = Annotated[float, Measure("speed", "m/s", above=0, at_most=40)]


_LIST = ListOf(f.SIZE, least=1, most=40)


def _widths(value: object) -> tuple[float, ...]:
    widths = _LIST(value)
    if any(after <= before for before, after in itertools.pairwise(widths)):
        raise refuse(f"found {list(widths)}", "widths that rise from one to the next")
    return widths


Widths = Annotated[tuple[float, ...], Reads(_widths, "mm", _LIST.schema())]
Pair = Annotated[tuple[float, ...], Reads(ListOf(f.SIZE, least=2, most=2), "mm")]


class Limits(Table):
    """What a checker holds the figures of a pane against."""

    bond_widths: Widths = setting(
        (10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0), "bond widths that nozzles are cut for (common practice, no source)"
    )
    bond_width_least: f.Size = setting(10.0, "least bond width (common practice, no source)")
    bond_width_to_thickness: Factor = setting(3.0, "greatest bond width for 1 mm of bond thickness (from memory of ETAG 002)")
    bond_width_over_thickness: Factor = setting(1.0, "least bond width for 1 mm of bond thickness (common practice, no source)")
    bond_thickness_least: f.Size = setting(5.0, "least bond thickness (common practice, no source)")
    bond_thickness_least_small: f.Size = setting(3.0, "least bond thickness of a small pane (common practice, no source)")
    small_pane: f.Size = setting(500.0, "longest side up to which a pane is small (own default)")
    bond_thickness_most: f.Size = setting(10.0, "greatest bond thickness in one pass (common practice, no source)")
    bond_thickness_step: Step = setting(0.5, "step to which a worked-out bond thickness is rounded up (own default)")
    size_step: Step = setting(
        1.0, "step to which joint, set-back, landing, frit and chocks are rounded up where they are worked out (own default)"
    )
    bond_thickness_anywhere: f.SizeOrZero = setting(2.0, "bond left at the tightest place (common practice, no source)")
    bond_thickness_per_metre: Bow = setting(
        1.0, "bond thickness for each metre of the longest side, beside the base (common practice, no source)"
    )
    bond_thickness_base: f.SizeOrZero = setting(
        3.0, "bond thickness by the length of the pane: base (common practice, no source)"
    )
    bow_share: f.Share = setting(50.0, "share of the glass's bow that is not pressed out by hand (common practice, no source)")
    bow_least: Bow = setting(1.0, "least bow that a supplier agrees to, for what to order (common practice, no source)")
    notch_height_to_thickness: NotchTimes = setting(
        3.0,
        "height of the V-notch for 1 mm of bond thickness where nothing else governs; its width keeps the section (common practice)",
    )
    notch_slenderness: Factor = setting(
        1.9, "greatest height of the uncured bead for 1 mm of its width (common practice, no source)"
    )
    notch_height_most: f.Size = setting(22.0, "greatest height of the uncured bead (common practice, no source)")
    contact_over_gap: f.SizeOrZero = setting(2.0, "uncured bead above the widest gap, least (common practice, no source)")
    nozzle_bore: f.Size = setting(20.0, "bore of the widest nozzle at hand (own default)")
    nozzle_wall: f.SizeOrZero = setting(
        2.0, "bore of the nozzle beyond the base of the V-notch, least (common practice, no source)"
    )
    spacer_clearance: f.SizeOrZero = setting(2.0, "between spacer and bead (common practice, no source)")
    spacer_width_least: f.Size = setting(3.0, "narrowest spacer that does not roll over (common practice, no source)")
    spacer_gap: f.SizeOrZero = setting(5.0, "between two spacers, so that air reaches the bead (own default)")
    set_back_beyond_squeeze_out: f.SizeOrZero = setting(
        1.0, "set-back beyond the squeeze-out, least (common practice, no source)"
    )
    set_back_most: f.Size = setting(
        12.0, "greatest set-back taken to shorten an unbonded corner (common practice: 5 to 12, no source)"
    )
    rim_clearance: f.SizeOrZero = setting(3.0, "bead inside the start of the frit (common practice, no source)")
    landing_inside: f.SizeOrZero = setting(2.0, "landing left inside the squeeze-out (common practice, no source)")
    frit_to_bond: Factor = setting(2.0, "frit width for 1 mm of bond width (common practice, no source)")
    frit_margin: f.SizeOrZero = setting(2.0, "solid frit inside the squeeze-out (common practice, no source)")
    frit_radius_least: f.SizeOrZero = setting(5.0, "least corner radius that a print shows cleanly (common practice, no source)")
    protection_placing: f.SizeOrZero = setting(2.0, "placing of paint or tape on the weather face (common practice, no source)")
    tape_widths: Widths = setting((25.0, 50.0), "widths of tape for the outer face (common practice, no source)")
    tape_lost: f.SizeOrZero = setting(
        2.0, "of a tape's width, lost at the glass edge by trimming and lifting (common practice, no source)"
    )
    proud_most: f.SizeOrZero = setting(3.0, "glass proud of the skin at the worst tolerances (own default)")
    sunk_most: f.SizeOrZero = setting(4.0, "glass sunk below the skin at the worst tolerances (own default)")
    deck_light_rake: Rake = setting(75.0, "rake from which a pane is a deck light and lies on its landing (own default)")
    rake_difference: Rake = setting(
        1.0, "greatest difference of the rake from the lean of a wall that was drawn or surveyed in space (own default)"
    )
    flush_deck: f.SizeOrZero = setting(
        0.5, "deck lights: glass proud or sunk as drawn, so that it neither trips nor ponds (common practice, no source)"
    )
    joint_least: f.SizeOrZero = setting(3.0, "joint left at the worst tolerances (common practice, no source)")
    pane_tolerance_closest: f.SizeOrZero = setting(
        1.0, "closest tolerance on the pane's size that a supplier agrees to (common practice, no source)"
    )
    joint_most: f.Size = setting(15.0, "joint at the worst tolerances, greatest (common practice, no source)")
    sealant_look: f.PositiveShare = setting(
        80.0, "share of the sealant's movement class that may be used, beyond it: look (own default)"
    )
    joint_for_tool: f.Size = setting(6.0, "joint as drawn that a nozzle and a tool can fill (handbook of sealants: 1/4 in)")
    backfill_least: f.Size = setting(6.0, "least depth of the backfill (handbook of sealants: 1/4 in)")
    backfill_full_to: f.Size = setting(12.0, "joint width up to which the backfill is as deep as wide (handbook of sealants)")
    backfill_most: f.Size = setting(13.0, "greatest depth of the backfill (a handbook of building details: 1/2 in)")
    glass_edge_left: f.SizeOrZero = setting(2.0, "glass edge below the backfill, least (common practice, no source)")
    backer_oversize: Oversize = setting(
        1.25, "diameter of the backer for 1 mm of joint (an article on sealant joints, at second hand: 1.25 to 1.33)"
    )
    backer_room: Factor = setting(0.8, "room for the backer as a share of its diameter (common practice, no source)")
    unbonded_corner_to_set_back: Factor = setting(
        4.0, "glass beyond the bead in a corner for 1 mm of set-back (common practice, no source)"
    )
    cut_corner_angle: Corner = setting(60.0, "corner angle up to which the unbonded corner may be cut square (own default)")
    cut_corner_edge: Factor = setting(
        4.0, "least edge of an unbonded corner cut square for 1 mm of bond width (common practice, no source)"
    )
    gun_radius: f.Size = setting(12.0, "least radius that a hand gun turns (common practice, no source)")
    re_entrant_radius: f.Size = setting(
        10.0, "least radius of a re-entrant corner; never under the glass thickness (guides of glass toughening)"
    )
    cut_out_share: f.PositiveShare = setting(
        33.4, "greatest cut-out as a share of the narrowest side of the pane (guides of glass toughening)"
    )
    pair_difference: f.Size = setting(0.5, "greatest distance of a pane from the mirror image of its pair (own default)")
    least_pane: Pair = setting((300.0, 300.0), "least pane that the supplier toughens (one processor's figure): ask yours")
    chock_backfill_least: f.SizeOrZero = setting(3.0, "least backfill over a chock (common practice, no source)")
    chock_bearing: f.Size = setting(4.0, "glass that bears on a chock, one ply, least (common practice, no source)")
    chock_bearing_outer: f.Share = setting(
        50.0, "share of a laminate's outer ply that bears on a chock with all the rest, least (common practice, no source)"
    )
    chock_share_look: f.Share = setting(25.0, "share of the weight on each chock, below it: look (common practice, no source)")
    chock_share_fail: f.Share = setting(20.0, "share of the weight on each chock, below it: fail (common practice, no source)")
    chock_height_least: f.SizeOrZero = setting(3.0, "least height of a chock (a maker's notes on rubber blocks, at second hand)")
    chock_from_corner: f.SizeOrZero = setting(
        50.0, "middle of a chock from where a corner's rounding begins, nearer: look (common practice, no source)"
    )
    chock_end_from_corner: f.SizeOrZero = setting(
        20.0, "end of a chock from where a corner's rounding begins, least (an atlas of glass building: 20 mm from the corner)"
    )
    chock_length_per_area: LengthPerArea = setting(
        27.0, "length of a chock for each square metre of glass (guides of glazing, at second hand)"
    )
    chock_length_least: f.Size = setting(50.0, "least length of a chock (common practice, no source)")
    chock_length_usual: f.Size = setting(
        100.0, "length of a chock up to which the backfill over it is kept (articles: 80 to 100)"
    )
    chock_length_shortest: f.SizeOrZero = setting(
        25.0, "shortest block that is still a setting chock (common practice, no source)"
    )
    chock_share_sloping: f.PositiveShare = setting(
        60.0, "share of the weight on the heavier chock where no level sill carries it (derived: round panes 57.7)"
    )
    chock_stress: f.Stress = setting(1.0, "bearing stress on a chock (common practice, no source)")
    chock_squash: f.Size = setting(0.3, "greatest squash of a chock (common practice, no source)")
    chock_modulus: f.Stress = setting(9.0, "modulus of a chock (from memory, at 80 Shore A)")
    dynamic_factor: Factor = setting(
        1.5, "on the weight, for the boat's movement (common practice: 1.5 to 2 on small fast craft)"
    )
    sill_slope: FactorOrZero = setting(
        0.2, "rise for 1 of run up to which a sill needs no side block (common practice, no source)"
    )
    peel_strain: f.Strain = setting(25.0, "extra strain at the bead's edge from the pane's bending (own default)")
    tension_to_design: Factor = setting(
        3.0,
        "tension along the bead, pane bent on it, for 1 MPa of design tension where no strength is given, beyond it: fail (own default)",
    )
    glass_factor: Factor = setting(
        4.0,
        "characteristic strength of the glass over its stress on the bent pane, below it: look, never an approval (own default)",
    )
    edge_heat_share: f.Share = setting(
        25.0,
        "share of the characteristic strength that heat may put on the edge of annealed glass before a person looks (own default)",
    )
    linear_deflection: f.PositiveShare = setting(
        50.0, "deflection as a share of the effective thickness up to which the linear plate holds (theory of thin plates)"
    )
    plate_error: f.PositiveShare = setting(5.0, "error of the plate's mesh, beyond it: look (own default)")
    green_share: f.PositiveShare = setting(50.0, "share of the uncured bead's yield stress that may be used (own default)")
    hardness_over_bond: HardnessStep = setting(
        10.0, "spacers harder than the cured adhesive by at most this (common practice, no source)"
    )
    dew_margin: Degrees = setting(3.0, "surface above the dew point (ISO 8502-4, a rule for paint used by the trade)")
    humidity_most: f.PositiveShare = setting(
        85.0, "greatest humidity of the air (ISO 12944-7, a rule for paint used by the trade)"
    )
    bonding_coldest: f.Temperature = setting(5.0, "coldest surface that is bonded (common practice, no source): adhesive sheet")
    bonding_warmest: f.Temperature = setting(35.0, "warmest surface that is bonded (common practice, no source): adhesive sheet")
    backfill_first_day: f.Days = setting(1.0, "days before the joint may be closed, least (common practice, no source)")
    handling_safety: Factor = setting(
        4.0, "cured part of the bead carries the weight this many times when straps come off (common practice, no source)"
    )
    hull_glazed_diameter: f.Size = setting(
        250.0, "glazed diameter in the hull without special consideration (flag-state yacht codes, seen at second hand)"
    )
    hull_glazed_diameter_most: f.Size = setting(
        400.0, "glazed diameter in the hull with special consideration (flag-state yacht codes, seen at second hand)"
    )
    side_scuttle: f.Area = setting(0.16, "opening up to which a round or oval light is a side scuttle (class rules, 2022)")
    one_person: Annotated[float, Measure("mass", "kg", above=0, at_most=200)] = setting(
        25.0, "mass that one person lifts, close to the body (from memory of guidance on manual handling)"
    )
    two_people: f.PositiveShare = setting(
        200 / 3, "share of what each lifts alone that two people lift together (from memory of guidance: two thirds)"
    )
    more_people: f.PositiveShare = setting(
        50.0, "share of what each lifts alone that three and more people lift together (from memory of guidance: half)"
    )
    shoulder: f.Size = setting(1400.0, "height over where the fitters stand from which work is above the shoulder (own default)")
    above_shoulder: f.PositiveShare = setting(
        50.0, "share of what people lift that counts above the shoulder (from memory of guidance: half or less)"
    )
    people_most: Annotated[int, Reads(f.whole(1, 20))] = setting(
        4, "most people round one pane; beyond, lifting gear (common practice, no source)"
    )
    cup_share: f.PositiveShare = setting(
        50.0, "share of a suction cup's marked rating that counts (research note: often too high)"
    )
    cups_least: Annotated[int, Reads(f.whole(1, 50))] = setting(2, "least number of suction cups")
    wind_drag: Factor = setting(1.2, "drag of a pane square to the wind (from memory)")
    wind: WindSpeed = setting(8.0, "wind at which lifting stops (common practice, no source)")
    outline_difference: Difference = setting(
        0.5, "outline of a returned drawing off the one that was issued, greatest (common practice, no source)"
    )
    print_difference: Difference = setting(
        1.0, "print of a returned drawing off the one that was issued, greatest (common practice, no source)"
    )

    @model_validator(mode="after")
    def _in_order(self) -> Limits:
        pairs = (
            ("joint_least", "joint_most"),
            ("backfill_full_to", "backfill_most"),
            ("chock_length_least", "chock_length_usual"),
            ("chock_share_fail", "chock_share_look"),
            ("bond_thickness_least_small", "bond_thickness_most"),
            ("bond_thickness_least", "bond_thickness_most"),
            ("bonding_coldest", "bonding_warmest"),
            ("hull_glazed_diameter", "hull_glazed_diameter_most"),
        )
        for low, high in pairs:
            least, most = getattr(self, low), getattr(self, high)
            if least > most:
                key = low if low in self.model_fields_set else high
                raise refuse(f"{low} {least:g} is more than {high} {most:g}", f"at most {high}", key=key)
        return self


__all__ = ["Limits"]
