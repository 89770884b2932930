"""Every figure of the record done again from what is printed beside it, by sums written here and not by the rules themselves.

What a reader needs stands on the line: the inputs by their names, in the units shown. A sum that takes something that is not on its
line fails here as a missing name. The panes are worked examples of an invented vessel.
"""

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job

VESSEL = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
KPA, G = 1e-3, 9.81


def sine(degrees):
    return math.sin(math.radians(degrees))


def bisector(offset, radius, angle):
    return offset / sine(angle / 2) + radius * (1 / sine(angle / 2) - 1)


def parallax(depth, i):
    return depth * math.tan(math.asin(1 / i["refractive index"]))


def contact(i):
    gap, width, height = i["gap"], i["notch width"], i["notch height"]
    return width * height / 2 / gap if gap <= height / 2 else max(0.0, width * (height / gap - 1))


def navier(aspect, slope=False):
    """The double sine series of a simply supported rectangle, where the program takes a single one."""
    total = 0.0
    for m in range(1, 40, 2):
        for n in range(1, 400, 2):
            sign = (-1) ** (n // 2) * (1 if slope else (-1) ** (m // 2))
            total += sign * (m if slope else 1) / (m * n * (m**2 + (n / aspect) ** 2) ** 2)
    return 16 / math.pi ** (5 if slope else 6) * total


def close(value):
    """A figure of a series that was cut off elsewhere."""
    return pytest.approx(value, rel=2e-4)


def stiffness(i):
    return i["modulus"] * i["thickness"] ** 3 / 12 / (1 - i["poisson"] ** 2)


def backfilled(i):
    width, rate, day = i.get("width", i["bond width"]), i["rate"], i["backfilled after"]
    both = (width / rate / 2) ** 2
    if not i["inner face open"]:
        return (width / rate) ** 2
    return both if day >= both else (width / rate - math.sqrt(day)) ** 2


def dew_point(i):
    wet = math.log(i["humidity"] / 100) + 17.62 * i["air"] / (243.12 + i["air"])
    a, b = (17.62, 243.12) if wet >= 0 else (22.46, 272.62)
    return b * wet / (a - wet)


def laminate(i):
    """EN 16612, from memory: plies about the middle of the laminate."""
    plies, layers = i["plies"], [*i["interlayers"], 0.0]
    at, middles = 0.0, []
    for ply, layer in zip(plies, layers, strict=True):
        middles.append(at + ply / 2)
        at += ply + layer
    centre = sum(ply * place for ply, place in zip(plies, middles, strict=True)) / sum(plies)
    moved = sum(ply * (place - centre) ** 2 for ply, place in zip(plies, middles, strict=True))
    return (sum(ply**3 for ply in plies) + 12 * i["coupling"] * moved) ** (1 / 3)


def most_stressed(i):
    """EN 16612, from memory: √(h³ / (ply + 2 × coupling × distance)) of the ply that has the least."""
    plies, layers = i["plies"], [*i["interlayers"], 0.0]
    middles = [sum(plies[:n]) + sum(layers[:n]) + ply / 2 for n, ply in enumerate(plies)]
    centre = sum(ply * place for ply, place in zip(plies, middles, strict=True)) / sum(plies)
    return min(
        (laminate(i) ** 3 / (ply + 2 * i["coupling"] * abs(place - centre))) ** 0.5
        for ply, place in zip(plies, middles, strict=True)
    )


def most_people(i, people):
    share = {1: 1.0, 2: i["two"]}.get(people, i["more"])
    return people * i["one"] * share * i["reach share"]


def moved_against_frame(i):
    """The rigid pane shifts and turns about the middle of its bead, the frame stretches from there and leans by half the racking."""
    (right, up), (x, y) = i["shift"], i["arm"]
    turn, strain, half = i["turn"], i["differential strain"], i.get("racking", 0.0) / 2
    return right - turn * y - strain * x - half * y, up + turn * x - strain * y - half * x


def opening_at(i):
    (right, up), (x, y) = moved_against_frame(i), i["outward"]
    return -(right * x + up * y) - i.get("swell", 0.0) * abs(x)


def movement_along_at(i):
    (right, up), (x, y) = moved_against_frame(i), i["outward"]
    return abs(up * x - right * y)


BY_HAND = {
    "joint.opening_at": opening_at,
    "joint.movement_along_at": movement_along_at,
    "section.uncured_bead_area": lambda i: i["notch width"] * i["notch height"] / 2,
    "section.bow_over_length": lambda i: i["bow"] * i["length"] / 1000,
    "section.bow_between_spacers": lambda i: i["bow"] * min(i["bow share"], i["pitch"] ** 2 / i["length"] ** 2),
    "section.tightest_gap": lambda i: max(
        i["bond thickness"] / 10,
        i["bond thickness"] - i["spacer tolerance"] - i["landing flatness"] - i["bow between spacers"],
    ),
    "section.squeeze_out": lambda i: (i["bead area"] / i["least gap"] - i["bond width"]) / 2,
    "section.inner_margin": lambda i: i["landing"] - i["joint width"] - i["set back"] - i["bond width"],
    "section.largest_gap": lambda i: (
        i["bond thickness"] + i["spacer tolerance"] + i["landing flatness"] + i["bow share"] * i["bow"]
    ),
    "section.frit_beyond_landing": lambda i: i["joint width"] + i["frit width"] - i["landing"],
    "section.bead_centre": lambda i: i["set back"] + i["bond width"] / 2,
    "section.contact_width": contact,
    "section_room.landing_inside_needed": lambda i: i["squeeze out"] + i["margin"],
    "section_room.room_beside_spacer": lambda i: i["set back"] - i["spacer width"],
    "section_room.inside_unprinted_edge": lambda i: i["set back"] - i["frit start"],
    "section_room.fillet_reach": lambda i: i["fillet"] / math.tan(math.radians((90 + i["draft"]) / 2)),
    "section_room.clear_of_fillet": lambda i: i["joint width"] + (i["set back"] - i["spacer width"]) / 2 - i["reach"],
    "section_room.width_to_thickness": lambda i: i["bond width"] / i["bond thickness"],
    "section_room.height_for_full_contact": lambda i: 2 * i["largest gap"],
    "section_room.height_for_any_contact": lambda i: i["largest gap"] + i["squeeze"],
    "section_room.slenderness": lambda i: i["notch height"] / i["notch width"],
    "section_room.bore_needed": lambda i: i["notch width"] + i["wall"],
    "section_room.proud_at_worst": lambda i: i["tolerance"] + i["proud"],
    "section_room.sunk_at_worst": lambda i: i["tolerance"] - i["proud"],
    "section_room.off_flush": lambda i: abs(i["proud"]),
    "section_room.glass_edge_left": lambda i: i["glass thickness"] - i["backfill depth"] - max(0.0, i["proud"]),
    "tolerance.flush_tolerance": lambda i: i["spacer"] + i["glass thickness"] + i["recess depth"] + i["paint"],
    "tolerance.joint_tolerance": lambda i: (i["recess"] + i["pane"]) / 2 + i["placing"],
    "frit.frit_for_twice_the_bond": lambda i: i["factor"] * i["bond width"],
    "frit.solid_frit": lambda i: i["frit width"] - i["fade"],
    "frit.solid_at_worst_print": lambda i: i["solid"] - i["print tolerance"],
    "frit.solid_of_small_print": lambda i: i["at worst"] - i["size tolerance"] / 2,
    "frit.frit_for_cover": lambda i: (
        i["set back"] + i["bond width"] + i["squeeze out"] + i["margin"] + parallax(i["print depth"], i)
    ),
    "frit.cover_margin": lambda i: i["margin"] + parallax(i["print depth"], i),
    "frit.outer_protection_needed": lambda i: max(
        i["factor"] * i["bond width"],
        i["set back"] + i["bond width"] + i["placing error"] + parallax(i["glass thickness"], i),
    ),
    "corner.corner_gap": lambda i: (
        (i["joint width"] + (i["glass radius"] - i["recess radius"]) * (1 - sine(i["interior angle"] / 2)))
        / sine(i["interior angle"] / 2)
    ),
    "corner.frit_cover": lambda i: (
        bisector(i["frit width"], i["frit radius"], i["interior angle"])
        - bisector(i["bead centre"], i["bead radius"], i["interior angle"])
        - i["bond width"] / 2
        - i["squeeze out"]
    ),
    "corner.frit_cover_at_worst": lambda i: i["cover"] - i["print tolerance"],
    "corner.re_entrant_radius_needed": lambda i: max(i["glass thickness"], i["least"]),
    "bead.landing_left_in_corner": lambda i: (
        bisector(i["landing from glass"], i["landing corner radius"], i["interior angle"])
        - bisector(i["bead centre"], i["bead corner radius"], i["interior angle"])
        - i["bond width"] / 2
        - i["margin"]
    ),
    "bead.unbonded_length": lambda i: (
        bisector(i["bead centre"], i["bead corner radius"], i["interior angle"])
        - i["bond width"] / 2
        - bisector(0, i["glass corner radius"], i["interior angle"])
    ),
    "bead.unbonded_limit": lambda i: i["factor"] * i["set back"],
    "bead.least_corner_radius": lambda i: max(i["bond width"], i["least"]),
    "bead.radius_left": lambda i: i["glass corner radius"] - i["bead centre"],
    "thermal.summer_surface": lambda i: i["highest air"] + {"bright": 18, "light": 30, "dark": 42}[i["colour"]],
    "thermal.sunlit_temperature": lambda i: i["air"] + i["absorptance"] * i["gain"],
    "thermal.glass_beside_frame": lambda i: i["frame"] - i["difference"],
    "thermal.differential_strain": lambda i: (
        i["frame expansion"] * (i["frame"] - i["frame bonded"]) - i["glass expansion"] * (i["glass"] - i["glass bonded"])
    ),
    "thermal.shear_strain": lambda i: i["movement"] / i["bond thickness"],
    "thermal.shear_stress": lambda i: i["shear modulus"] * i["shear strain"],
    "thermal.moisture_swell": lambda i: i["stile width"] * i["swell per percent"] * i["moisture change"],
    "joint.least_width": lambda i: i["joint width"] - i["tolerance"],
    "joint.widest_width": lambda i: i["joint width"] + i["tolerance"],
    "joint.greatest_strain": lambda i: max(
        math.hypot(i["least width"] + i["opening"], i["movement along"]) / i["least width"] - 1, -i["opening"] / i["least width"]
    ),
    "joint.backer_room": lambda i: (
        i["bond thickness"] + i["glass thickness"] - i["backfill depth"] - i["share"] * i["backer diameter"]
    ),
    "materials.mass": lambda i: (
        (i["area"] * (i["glass density"] * i["glass"] + i.get("interlayer density", 0) * i.get("interlayer", 0))) * 1e-9
    ),
    "gravity.weight_in_pane": lambda i: (
        0.0,
        -i["mass"] * G * math.cos(math.radians(i["rake"])),
        -i["mass"] * G * sine(i["rake"]),
    ),
    "gravity.moving_pull_off": lambda i: max(i["pull off"], i["pull off"] * i["dynamic factor"]),
    "glass.weight": lambda i: i["mass"] * G,
    "glass.effective_thickness": laminate,
    "glass.effective_thickness_for_stress": most_stressed,
    "chocks.bearing_depth": lambda i: i["glass thickness"] - i["backfill over"],
    "chocks.bearing_depth_needed": lambda i: (
        i["single"] if len(i["plies"]) == 1 else sum(i["plies"][1:]) + sum(i["interlayers"]) + i["plies"][0] / 2
    ),
    "chocks.least_share": lambda i: min(i["forces"]) / i["weight along"],
    "chocks.weight_offset": lambda i: abs(i["turning"]) / i["weight along"],
    "chocks.bearing_stress": lambda i: i["force"] * i["dynamic factor"] / (i["length"] * i["bearing depth"]),
    "chocks.chock_squash": lambda i: (
        i["force"] * i["dynamic factor"] * i["height"] / (i["modulus"] * i["length"] * i["bearing depth"])
    ),
    "chocks.sill_rise": lambda i: abs(math.tan(math.radians(i["sill slope"]))),
    "bond.governing_tension": lambda i: max(
        i["outward pressure"] * KPA * i["inscribed radius"] / i["bond width"] * (0.5 if i["round pane"] else 1),
        i["outward pressure"] * KPA * i["area"] / (i["bond width"] * i["bead length"]),
    ),
    "bond.mean_tension": lambda i: i["outward pressure"] * KPA * i["area"] / (i["bond width"] * i["bead length"]),
    "bond.permanent_load": lambda i: math.hypot(0 if i["chocked"] else i["weight along"], max(0.0, i["pull off"])),
    "bond.permanent_limit": lambda i: i["permanent tension"] if i["pull off"] > 1e-9 and i["chocked"] else i["permanent shear"],
    "together.tension_at_gap": lambda i: i["tension"] * i["bond width"] / i["contact width"],
    "together.bent_over_rule": lambda i: i["bent"] / i["trapezoidal"],
    "together.shear_together": lambda i: i["heat"] + i["bending"],
    "together.combined_use": lambda i: (i["tension"] / i["design tension"]) ** 2 + (i["shear"] / i["design shear"]) ** 2,
    "bent_pane.tension_by_strength": lambda i: i["strength"] / i["factor"],
    "bent_pane.tension_by_design": lambda i: i["times"] * i["design tension"],
    "bent_pane.glass_look": lambda i: i["strength"] / i["factor"],
    "bent_pane.bending_shear_strain": lambda i: close(
        max(
            math.dist((0, 0), [s * share + p * share**2 for s, p in zip(i["slope"], i["pull"], strict=True)])
            for share in (step / 1000 for step in range(1001))
        )
        / i["bond thickness"]
    ),
    "bond.dead_load_shear": lambda i: i["load"] / (i["bond width"] * i["bead length"]),
    "bond.dead_load_shear_on_sides": lambda i: i["weight along"] / (2 * i["height"] * i["bond width"]),
    "bond.dead_load_tension": lambda i: i["pull off"] / (i["bond width"] * i["bead length"]),
    "green.wind_held": lambda i: math.sqrt(
        i["share"] * i["yield stress"] * i["bond width"] * i["bead length"] / (0.5 * 1.225 * i["area"] * 1e-6 * i["drag"])
    ),
    "green.green_use": lambda i: max(0.0, i["stress"]) / (i["share"] * i["yield stress"]),
    "pane_bending.deflection_factor": lambda i: close(navier(i["aspect"])),
    "pane_bending.slope_factor": lambda i: close(navier(i["aspect"], slope=True)),
    "pane_bending.plate_stiffness": stiffness,
    "pane_bending.deflection": lambda i: close(
        navier(i["long side"] / i["short side"]) * i["pressure"] * KPA * i["short side"] ** 4 / i["stiffness"]
    ),
    "pane_bending.edge_slope": lambda i: close(
        navier(i["long side"] / i["short side"], slope=True) * i["pressure"] * KPA * i["short side"] ** 3 / i["stiffness"]
    ),
    "pane_bending.round_deflection": lambda i: (
        (5 + i["poisson"]) / (64 * (1 + i["poisson"])) * i["pressure"] * KPA * i["radius"] ** 4 / i["stiffness"]
    ),
    "pane_bending.round_edge_slope": lambda i: i["pressure"] * KPA * i["radius"] ** 3 / (8 * (1 + i["poisson"]) * i["stiffness"]),
    "pane_bending.peel_strain": lambda i: i["slope"] * i["bond width"] / (2 * i["bond thickness"]),
    "bond.tension_modulus": lambda i: 4 * i["shear modulus"] * (1 + (i["bond width"] / i["bond thickness"] / 2) ** 2),
    "bond.band_tension": lambda i: i["reaction"] / i["bond width"],
    "bond.edge_strain": lambda i: (i["peak"] - i["mean"]) / i["modulus"],
    "bond.deflection_share": lambda i: i["deflection"] / i["thickness"],
    "quantities.bead_volume": lambda i: i["bead area"] * i["bead length"] / 1000,
    "quantities.adhesive_to_buy": lambda i: i["volume"] * (1 + i["waste"]) + i["purge"],
    "quantities.backfill_volume": lambda i: i["perimeter"] * i["joint width"] * i["backfill depth"] * (1 + i["waste"]) / 1000,
    "quantities.backer_length": lambda i: i["perimeter"] * (1 + i["waste"]),
    "quantities.masking_tape": lambda i: i["lines"] * i["perimeter"] * (1 + i["waste"]),
    "quantities.glass_primer": lambda i: i["bead length"] * (i["bond width"] + 2 * i["beside"]) * i["coat"] * i["times"] / 1000,
    "quantities.frame_primer": lambda i: (
        (i["bead length"] * (i["bond width"] + 2 * i["beside"]) + i["perimeter"] * i["joint width"])
        * i["coat"]
        * i["times"]
        / 1000
    ),
    "quantities.activator": lambda i: 2 * i["bead length"] * (i["bond width"] + 2 * i["beside"]) * i["coat"] * i["times"] / 1000,
    "quantities.solvent": lambda i: i["bead length"] * (i["frit width"] + i["landing"]) * i["coat"] * i["times"] / 1000,
    "chocks.height_on_curve": lambda i: i["joint width"] - i["radius"] + math.sqrt(i["radius"] ** 2 - (i["length"] / 2) ** 2),
    "cure.widest_bead": lambda i: i["bond width"] + 2 * i["squeeze out"],
    "cure.hose_day": lambda i: max(math.ceil(i["cured through"]), i["backfilled after"] + i["sealant days"]),
    "time_plan.latest_lift": lambda i: i["abort"] - i["lift"] - i["align"] - i["press"],
    "time_plan.activated_wait": lambda i: i["primed"] - i["wiped"],
    "lifting.reach_share": lambda i: i["at hand"] * (i["above"] if i["height"] > i["shoulder"] else 1),
    "lifting.load_of_each": lambda i: i["mass"] / i["people"],
    "lifting.people_limit": lambda i: most_people(i, i["people"]),
    "lifting.people_needed": lambda i: next(
        (people for people in range(1, i["most"] + 1) if most_people(i, people) >= i["mass"]), None
    ),
    "lifting.cups_needed": lambda i: max(i["least"], math.ceil(i["mass"] / (i["rating"] * i["derating"]))),
    "lifting.wind_force": lambda i: 0.5 * 1.225 * i["wind"] ** 2 * i["area"] * 1e-6 * i["drag"],
    "time_plan.bead_time": lambda i: (
        i["volume"] / (i["rate"] * i["guns"]) + (math.ceil(i["packs"] / i["guns"]) - 1) * i["pack change"]
    ),
    "time_plan.bead_start": lambda i: (
        math.ceil((i["work begins"] + max(i["frame ready"], i["glass ready"]) + i["climate check"]) / i["clock step"])
        * i["clock step"]
        - i["work begins"]
    ),
    "time_plan.elapsed_time": lambda i: i["bead time"] + i["lift"] + i["align"] + i["press"],
    "time_plan.time_limit": lambda i: i["share"] * i["open time"],
    "climate.open_time": lambda i: (
        i["open time at 23"] * 2 ** (-max(0.0, i["air"] - 23) / i["halving"]) * min(1.0, 50 / i["humidity"])
    ),
    "climate.dew_point": dew_point,
    "climate.least_surface_temperature": lambda i: dew_point(i) + i["margin"],
    "cure.cure_rate": lambda i: (
        i["standard rate"] * math.sqrt(2 ** ((i["air"] - 23) / i["doubling"])) * math.sqrt(i["humidity"] / 50)
    ),
    "cure.days_both_open": lambda i: (i["bond width"] / (2 * i["rate"])) ** 2,
    "cure.days_one_open": lambda i: (i["bond width"] / i["rate"]) ** 2,
    "cure.backfill_day": lambda i: max(
        i["first day"], math.ceil((i["bond width"] / i["rate"] / (2 if i["inner face open"] else 1)) ** 2)
    ),
    "cure.days_backfilled": backfilled,
    "cure.handling_width": lambda i: i["safety"] * i["weight"] * i["dynamic factor"] / (i["design tension"] * i["bead length"]),
    "cure.least_handling_days": lambda i: i["hours"] / 24 * max(1.0, (i["standard rate"] / i["rate"]) ** 2),
    "cure.handling_days": lambda i: max(i["least"], backfilled(i)),
}


def unnamed(figure):
    """Inputs that the figure's own words do not say the place of."""
    words = figure.record.formula.lower().replace("-", " ")
    return [each.name for each in figure.inputs if each.name.removesuffix("s").lower() not in words]


NOT_ONE_NUMBER = {"shear_bed.shear_bed", "chocks.block_forces", "climate.ready_to_bond"}
"""Done again elsewhere: the shear bed and the blocks by their balance, the climate by its own findings."""


@pytest.mark.parametrize("code", [pane.code for pane in VESSEL.panes])
def test_every_figure_can_be_done_again_from_its_line(code):
    """One of them with the plate as well, whose reactions stand on the line as inputs."""
    pane = next(pane for pane in VESSEL.panes if pane.code == code)
    check = check_pane(VESSEL, pane, build_detail(VESSEL, pane), plate=code == "SW-08")
    assert len(check.figures) > 90
    unknown = set()
    for figure in check.figures:
        rule = figure.record.name
        assert not unnamed(figure), (rule, figure.record.formula, unnamed(figure))
        if rule in NOT_ONE_NUMBER:
            continue
        if rule not in BY_HAND:
            unknown.add(rule)
            continue
        by_hand = BY_HAND[rule]({each.name: each.value for each in figure.inputs})
        expected = (
            by_hand
            if by_hand is None or not isinstance(by_hand, (int, float, tuple))
            else pytest.approx(by_hand, rel=1e-9, abs=1e-9)
        )
        found = tuple(figure.value) if isinstance(figure.value, tuple) else figure.value
        assert found == expected, (rule, figure.what)
    assert unknown <= COUNTS


COUNTS = {
    "corner.cut_out_share",
    "quantities.packs_needed",
    "quantities.cloths",
    "quantities.abrasive_pads",
    "quantities.blocks_to_pack",
}
"""Counts and one ratio, each under its own test."""


def test_the_shear_bed_balances():
    """Σ G w / t × length × movement = weight + chocks, and its moments, from what the record holds of it."""
    for code in ("SW-01", "SW-02", "SW-03", "SW-06", "SW-08"):
        pane = next(pane for pane in VESSEL.panes if pane.code == code)
        beds = [each for each in check_pane(VESSEL, pane).figures if each.record.name == "shear_bed.shear_bed"]
        assert beds
        for figure in beds:
            i = {each.name: each.value for each in figure.inputs}
            spring = i["shear modulus"] * i["bond width"] / i["bond thickness"]
            across, up = i.get("weight", (0.0, 0.0))
            x0, y0 = i.get("centroid", (0.0, 0.0))
            turning = x0 * up - y0 * across
            size = 1.0
            for station, (right, high) in zip(i["stations"], figure.value.shears, strict=True):
                pull = -spring * station.length
                across, up = across + pull * right, up + pull * high
                turning += pull * (station.x * high - station.y * right)
                size += abs(pull) * math.hypot(right, high)
            for chock, force in zip(i.get("contacts", ()), figure.value.contact_forces, strict=True):
                across, up = across + force * chock.push_x, up + force * chock.push_y
                turning += force * (chock.x * chock.push_y - chock.y * chock.push_x)
                assert force >= 0
            assert (across, up, turning / 1000) == pytest.approx((0, 0, 0), abs=1e-6 * size)
