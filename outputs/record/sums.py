"""The sums of the record: each rule's number on every record, and its formula with places for the numbers that go in.

Terms
-----
number
    Chapter and place, ``2.14``: it belongs to the rule, not to the run, and is the same on the record of every pane.
formula
    Arithmetic that can be done from the page. ``{bond width}`` is an input by its name in words, ``{plies 1}`` the first of a list,
    ``{@bending.factor}`` the result of another rule on the same pane. ``×`` ``/`` ``+`` ``−`` ``√( )`` ``∛( )`` ``max( ; )`` ``min( ; )``
    ``⌈ ⌉`` (rounded up) ``| |`` and powers as raised figures; angles in degrees. ``with q = ...`` names a step that stands more than once.
in words
    A rule that is no arithmetic on one line (a balance of forces, a series, a table) has no formula here: its own words stand.
"""

from __future__ import annotations

from dataclasses import dataclass

from outputs.record.sum_choices import (
    Formula,
    Inputs,
    along,
    backfilled,
    bead_start,
    bearing,
    contact,
    dew,
    faces,
    framed,
    governing,
    handling,
    hottest,
    lasting,
    lasting_limit,
    least_share,
    mass,
    open_time,
    opening,
    packs,
    people,
    two_plies,
)

CHAPTERS = {
    1: "Glass and weight",
    2: "Section and bead",
    3: "Tolerances",
    4: "Corners",
    5: "Frit",
    6: "Movement and joint",
    7: "Chocks",
    8: "Bond under load",
    9: "Bending of the pane by tables",
    10: "Pane bent on its bead",
    11: "Air and bonding day",
    12: "Cure",
    13: "Lifting",
    14: "Quantities",
}


@dataclass(frozen=True, slots=True)
class Sum:
    """One rule on the record: its number, and its formula; none where it is told in words."""

    number: str
    formula: Formula = ""
    parts: tuple[tuple[str, str], ...] = ()  # of a rule with several results: the formula of each that has one

    @property
    def chapter(self) -> int:
        """The chapter it stands in."""
        return int(self.number.partition(".")[0])

    @property
    def order(self) -> tuple[int, int]:
        """By which the sums of a record stand in order."""
        chapter, _, place = self.number.partition(".")
        return int(chapter), int(place)

    def parts_of(self, inputs: Inputs) -> tuple[tuple[str, str], ...]:
        """The formulas of single results that hold for these inputs: a heeled boat has its own words."""
        return () if inputs.get("heel") else self.parts

    def formula_of(self, inputs: Inputs) -> str:
        """The formula that holds for these inputs, "" where it is told in words."""
        return self.formula(inputs) if callable(self.formula) else self.formula


SPREAD = "({plies 1} + {plies 2}) / 2 + {interlayers 1}"
CUBE = "{plies 1}³ + {plies 2}³ + 12 × {coupling} × {plies 1} × {plies 2} / ({plies 1} + {plies 2}) × q²"
PARALLAX = "{print depth} × tan(asin(1 / {refractive index}))"
GLASS_PARALLAX = "{glass thickness} × tan(asin(1 / {refractive index}))"
CORNER = "with q = sin({interior angle}° / 2)"

SUMS: dict[str, Sum] = {
    # 1 glass and weight
    "materials.mass": Sum("1.1", mass),
    "glass.weight": Sum("1.2", "{mass} × 9.81"),
    "glass.effective_thickness": Sum("1.3", two_plies(f"∛({CUBE}) with q = {SPREAD}")),
    "glass.effective_thickness_for_stress": Sum(
        "1.4",
        two_plies(
            f"min(√(p / ({{plies 1}} + 2 × {{coupling}} × q × {{plies 2}} / ({{plies 1}} + {{plies 2}}))); "
            f"√(p / ({{plies 2}} + 2 × {{coupling}} × q × {{plies 1}} / ({{plies 1}} + {{plies 2}})))) with p = {CUBE} with q = {SPREAD}"
        ),
    ),
    "glass.shear_transfer": Sum("1.5"),
    "gravity.weight_in_pane": Sum(
        "1.6", parts=(("up", "−{mass} × 9.81 × cos({rake}°)"), ("pull_off", "−{mass} × 9.81 × sin({rake}°)"))
    ),
    "gravity.moving_pull_off": Sum("1.7", "max({pull off}; {pull off} × {dynamic factor})"),
    "gravity.heeled_rake": Sum("1.8", "max(−90; {rake} − {heel})"),
    "loads.heel_acceleration": Sum("1.9", "9.81 × tan({heel}°)"),
    "loads.moving_weight": Sum("1.10"),
    "loads.wind_suction": Sum("1.11", "0.5 × 1.225 × {wind}² × {coefficient} / 1000"),
    "loads.edge_heat_stress": Sum("1.12", "{modulus} × {expansion} × {difference}"),
    # 2 section and bead
    "section.recess_depth": Sum("2.1", "{bond thickness} + {glass thickness} − {proud}"),
    "section.proud": Sum("2.2", "{bond thickness} + {glass thickness} − {recess depth}"),
    "section.bead_centre": Sum("2.3", "{set back} + {bond width} / 2"),
    "section.inner_margin": Sum("2.4", "{landing} − {joint width} − {set back} − {bond width}"),
    "section.frit_beyond_landing": Sum("2.5", "{joint width} + {frit width} − {landing}"),
    "section.uncured_bead_area": Sum("2.6", "{notch width} × {notch height} / 2"),
    "section.notch_width": Sum("2.7", "2 × {bond width} / {times}"),
    "section.notch_height": Sum("2.8", "{times} × {bond thickness}"),
    "section.notch_height_for": Sum("2.9", "2 × {bond width} × {bond thickness} / {notch width}"),
    "section.bow_over_length": Sum("2.10", "{bow} × {length} / 1000"),
    "section.bow_between_spacers": Sum("2.11", "{bow} × min(({pitch} / {length})²; {bow share})"),
    "section.tightest_gap": Sum(
        "2.12",
        "max({bond thickness} / 10; {bond thickness} − {spacer tolerance} − {landing flatness} − {bow between spacers})",
    ),
    "section.largest_gap": Sum("2.13", "{bond thickness} + {spacer tolerance} + {landing flatness} + {bow share} × {bow}"),
    "section.squeeze_out": Sum("2.14", "({bead area} / {least gap} − {bond width}) / 2"),
    "section.contact_width": Sum("2.15", contact),
    "section.spacer_height": Sum("2.16", "{bond thickness} / (1 − {squeeze})"),
    "section_room.landing_inside_needed": Sum("2.17", "{squeeze out} + {margin}"),
    "section_room.room_beside_spacer": Sum("2.18", "{set back} − {spacer width}"),
    "section_room.inside_unprinted_edge": Sum("2.19", "{set back} − {frit start}"),
    "section_room.width_to_thickness": Sum("2.20", "{bond width} / {bond thickness}"),
    "section_room.height_for_full_contact": Sum("2.21", "2 × {largest gap}"),
    "section_room.height_for_any_contact": Sum("2.22", "{largest gap} + {squeeze}"),
    "section_room.slenderness": Sum("2.23", "{notch height} / {notch width}"),
    "section_room.bore_needed": Sum("2.24", "{notch width} + {wall}"),
    "section_room.glass_edge_left": Sum("2.25", "{glass thickness} − {backfill depth} − max(0; {proud})"),
    "section_room.fillet_reach": Sum("2.26", "{fillet} / tan((90° + {draft}°) / 2)"),
    "section_room.clear_of_fillet": Sum("2.27", "{joint width} + ({set back} − {spacer width}) / 2 − {reach}"),
    "section_room.harder_than_bond": Sum("2.28", "{spacer} − {adhesive}"),
    "joint.backer_room": Sum("2.29", "{bond thickness} + {glass thickness} − {backfill depth} − {share} × {backer diameter}"),
    "joint.backfill_depth": Sum("2.30"),
    "joint.backer_diameter": Sum("2.31", "{joint width} × {oversize}"),
    "bead.spacer_places": Sum("2.32"),
    "bead.round_spacer_count": Sum("2.33"),
    # 3 tolerances
    "tolerance.joint_tolerance": Sum("3.1", "({recess} + {pane}) / 2 + {placing}"),
    "tolerance.flush_tolerance": Sum("3.2", "{spacer} + {glass thickness} + {recess depth} + {paint}"),
    "section_room.proud_at_worst": Sum("3.3", "{proud} + {tolerance}"),
    "section_room.sunk_at_worst": Sum("3.4", "{tolerance} − {proud}"),
    "section_room.off_flush": Sum("3.5", "|{proud}|"),
    "joint.least_width": Sum("3.6", "{joint width} − {tolerance}"),
    "joint.widest_width": Sum("3.7", "{joint width} + {tolerance}"),
    "joint.pane_tolerance_for": Sum("3.8", "2 × ({joint width} − {joint left} − {placing}) − {recess}"),
    "tolerance.frit_beyond_landing_tolerance": Sum("3.9", "{print position} + {joint} + {landing}"),
    "tolerance.worst_case": Sum("3.10"),
    "tolerance.root_sum_square": Sum("3.11"),
    "tolerance.toughened_pane": Sum("3.12"),
    "tolerance.laminated_deviations": Sum("3.13"),
    "tolerance.ply_step": Sum("3.14"),
    "tolerance.print_position": Sum("3.15"),
    "tolerance.print_size": Sum("3.16"),
    "tolerance.ply_thickness": Sum("3.17"),
    "tolerance.glass_thickness": Sum("3.18"),
    "general_tolerances.welded_frame": Sum("3.19"),
    "general_tolerances.machined_frame": Sum("3.20"),
    # 4 corners
    "corner.bisector_distance": Sum("4.1", "{offset} / q + {radius} × (1 / q − 1) " + CORNER),
    "corner.corner_gap": Sum("4.2", "({joint width} + ({glass radius} − {recess radius}) × (1 − q)) / q " + CORNER),
    "corner.even_gap_radius": Sum("4.3"),
    "bead.least_corner_radius": Sum("4.4", "max({bond width}; {least})"),
    "bead.radius_left": Sum("4.5", "{glass corner radius} − {bead centre}"),
    "bead.unbonded_length": Sum(
        "4.6",
        "{bead centre} / q + {bead corner radius} × (1 / q − 1) − {bond width} / 2 − {glass corner radius} × (1 / q − 1) "
        + CORNER,
    ),
    "bead.unbonded_limit": Sum("4.7", "{factor} × {set back}"),
    "bead.landing_left_in_corner": Sum(
        "4.8",
        "{landing from glass} / q + {landing corner radius} × (1 / q − 1) − {bead centre} / q − {bead corner radius} × (1 / q − 1) "
        "− {bond width} / 2 − {margin} " + CORNER,
    ),
    "corner.re_entrant_radius_needed": Sum("4.9", "max({glass thickness}; {least})"),
    "corner.cut_out_share": Sum("4.10", "100 × {cut out} / {pane}"),
    # 5 frit
    "frit.solid_frit": Sum("5.1", "{frit width} − {fade}"),
    "frit.solid_at_worst_print": Sum("5.2", "{solid} − {print tolerance}"),
    "frit.solid_of_small_print": Sum("5.3", "{at worst} − {size tolerance} / 2"),
    "frit.frit_for_twice_the_bond": Sum("5.4", "{factor} × {bond width}"),
    "frit.frit_for_cover": Sum("5.5", "{set back} + {bond width} + {squeeze out} + {margin} + " + PARALLAX),
    "frit.cover_margin": Sum("5.6", "{margin} + " + PARALLAX),
    "corner.frit_cover": Sum(
        "5.7",
        "{frit width} / q + {frit radius} × (1 / q − 1) − {bead centre} / q − {bead radius} × (1 / q − 1) − {bond width} / 2 "
        "− {squeeze out} " + CORNER,
    ),
    "corner.frit_cover_at_worst": Sum("5.8", "{cover} − {print tolerance}"),
    "frit.frit_to_hide_landing": Sum("5.9", "{landing} − {joint width} + {bond thickness}"),
    "frit.parallax": Sum("5.10", "{depth} × tan(asin(sin({incidence}°) / {refractive index}))"),
    "frit.outer_protection_needed": Sum(
        "5.11", "max({factor} × {bond width}; {set back} + {bond width} + {placing error} + " + GLASS_PARALLAX + ")"
    ),
    "frit.outer_protection_reach": Sum("5.12", "{width} − {lost}"),
    "frit.outer_protection_to_hide_landing": Sum(
        "5.13",
        "{landing} − {joint width} + {bond thickness} + {glass thickness} × tan(asin(sin(45°) / {refractive index}))",
    ),
    "frit.frit_corner_radius": Sum("5.14", "max({least}; {bead corner radius} − ({frit width} − {bead centre}))"),
    # 6 movement and joint
    "thermal.summer_surface": Sum("6.1", hottest),
    "thermal.glass_beside_frame": Sum("6.2", "{frame} − {difference}"),
    "thermal.sunlit_temperature": Sum("6.3", "{air} + {absorptance} × {gain}"),
    "thermal.differential_strain": Sum(
        "6.4", "{frame expansion} × ({frame} − {frame bonded}) − {glass expansion} × ({glass} − {glass bonded})"
    ),
    "shear_bed.shear_bed": Sum("6.5"),
    "thermal.shear_strain": Sum("6.6", "{movement} / {bond thickness}"),
    "thermal.shear_stress": Sum("6.7", "{shear modulus} × {shear strain}"),
    "joint.greatest_strain": Sum(
        "6.8", "max(√(({least width} + {opening})² + {movement along}²) / {least width} − 1; −{opening} / {least width})"
    ),
    "thermal.moisture_swell": Sum("6.9", "{stile width} × {swell per percent} × {moisture change}"),
    "thermal.extremes": Sum("6.10"),
    "thermal.movement": Sum("6.11", "|{strain}| × {distance}"),
    "thermal.farthest_corner": Sum("6.12"),
    "joint.joint_width_for_movement": Sum("6.13", "max({least}; {movement} / {movement class} + {tolerance})"),
    "joint.least_width_for": Sum("6.14"),
    "joint.opening_at": Sum("6.15", opening),
    "joint.movement_along_at": Sum("6.16", along),
    # 7 chocks
    "chocks.bearing_depth": Sum("7.1", "{glass thickness} − {backfill over}"),
    "chocks.bearing_depth_needed": Sum("7.2", bearing),
    "chocks.block_forces": Sum("7.3"),
    "chocks.least_share": Sum("7.4", least_share),
    "chocks.weight_offset": Sum("7.5", "|{turning}| / {weight along}"),
    "chocks.bearing_stress": Sum("7.6", "{force} × {dynamic factor} / ({length} × {bearing depth})"),
    "chocks.chock_squash": Sum("7.7", "{force} × {dynamic factor} × {height} / ({modulus} × {length} × {bearing depth})"),
    "chocks.sill_rise": Sum("7.8", "|tan({sill slope}°)|"),
    "chocks.heeled_sill_rise": Sum("7.9"),
    "chocks.level_reactions": Sum("7.10"),
    "chocks.chock_length": Sum("7.11"),
    "chocks.chock_depth": Sum("7.12", "{bond thickness} + {glass thickness} − {backfill over}"),
    "chocks.length_for_force": Sum("7.13"),
    "chocks.height_on_curve": Sum("7.14", "{joint width} − ({radius} − √({radius}² − min({length} / 2; {radius})²))"),
    # 8 bond under load
    "bond.governing_tension": Sum("8.1", governing),
    "bond.mean_tension": Sum("8.2", "{outward pressure} / 1000 × {area} / ({bond width} × {bead length})"),
    "bond.permanent_load": Sum("8.3", lasting),
    "bond.dead_load_shear": Sum("8.4", "{load} / ({bond width} × {bead length})"),
    "bond.permanent_limit": Sum("8.5", lasting_limit),
    "bond.dead_load_shear_on_sides": Sum("8.6", "{weight along} / (2 × {height} × {bond width})"),
    "bond.dead_load_tension": Sum("8.7", "{pull off} / ({bond width} × {bead length})"),
    "green.green_use": Sum("8.8", "max(0; {stress}) / ({share} × {yield stress})"),
    "green.wind_held": Sum(
        "8.9",
        "√({share} × {yield stress} × {bond width} × {bead length} / (0.5 × 1.225 × {area} / 10⁶ × {drag}))",
    ),
    "bond.edge_tension": Sum("8.10", "{outward pressure} / 1000 × {inscribed radius} / {bond width}"),
    "bond.round_edge_tension": Sum("8.11", "{outward pressure} / 1000 × {radius} / (2 × {bond width})"),
    "bond.width_for_pressure": Sum("8.12", "{outward pressure} / 1000 × {inscribed radius} / {design tension}"),
    "bond.width_for_mean_pressure": Sum("8.13", "{outward pressure} / 1000 × {area} / ({design tension} × {bead length})"),
    "bond.width_for_permanent_load": Sum("8.14", "{permanent load} / ({permanent stress} × {bead length})"),
    "bond.thickness_for_movement": Sum("8.15", "{movement} / {shear strain}"),
    "bond.thickness_for_proportion": Sum("8.16", "{bond width} / {widest}"),
    "bond.thickness_for_flatness": Sum(
        "8.17", "{spacer tolerance} + {landing flatness} + {bow between spacers} + {least anywhere}"
    ),
    "bond.thickness_for_length": Sum("8.18"),
    "bond.contact_for_tension": Sum("8.19", "{contact width} × {tension} / {design tension}"),
    "bond.notch_height_for_contact": Sum("8.20"),
    "bond.gap_for_contact": Sum("8.21"),
    # 9 bending of the pane by tables
    "pane_bending.plate_stiffness": Sum("9.1", "{modulus} × {thickness}³ / (12 × (1 − {poisson}²))"),
    "pane_bending.deflection_factor": Sum("9.2"),
    "pane_bending.slope_factor": Sum("9.3"),
    "pane_bending.deflection": Sum("9.4", "{@pane_bending.deflection_factor} × {pressure} / 1000 × {short side}⁴ / {stiffness}"),
    "pane_bending.edge_slope": Sum("9.5", "{@pane_bending.slope_factor} × {pressure} / 1000 × {short side}³ / {stiffness}"),
    "pane_bending.round_deflection": Sum(
        "9.6", "(5 + {poisson}) / (64 × (1 + {poisson})) × {pressure} / 1000 × {radius}⁴ / {stiffness}"
    ),
    "pane_bending.round_edge_slope": Sum("9.7", "{pressure} / 1000 × {radius}³ / (8 × (1 + {poisson}) × {stiffness})"),
    "pane_bending.peel_strain": Sum("9.8", "{slope} × {bond width} / (2 × {bond thickness})"),
    "pane_bending.stress_factor": Sum("9.9"),
    "pane_bending.ellipse_stress_factor": Sum("9.10"),
    "pane_bending.thickness_for_pressure": Sum(
        "9.11", "{short side} × √({stress factor} × {pressure} / (1000 × {allowed stress}))"
    ),
    "pane_bending.patch_stress": Sum("9.12"),
    "pane_bending.patch_deflection": Sum("9.13"),
    # 10 pane bent on its bead
    "bond.tension_modulus": Sum("10.1", "4 × {shear modulus} × (1 + ({bond width} / (2 × {bond thickness}))²)"),
    "bond.band_tension": Sum("10.2", "{reaction} / {bond width}"),
    "together.bent_over_rule": Sum("10.3", "{bent} / {trapezoidal}"),
    "together.tension_at_gap": Sum("10.4", "{tension} × {bond width} / {contact width}"),
    "bond.edge_strain": Sum("10.5", "max(0; {peak} − {mean}) / {modulus}"),
    "bond.deflection_share": Sum("10.6", "{deflection} / {thickness}"),
    "bent_pane.tension_by_strength": Sum("10.7", "{strength} / {factor}"),
    "bent_pane.tension_by_design": Sum("10.8", "{times} × {design tension}"),
    "bent_pane.glass_look": Sum("10.9", "{strength} / {factor}"),
    "bent_pane.bending_shear_strain": Sum("10.10"),
    "together.shear_together": Sum("10.11", "{heat} + {bending}"),
    "together.combined_use": Sum("10.12", "({tension} / {design tension})² + ({shear} / {design shear})²"),
    # 11 air and bonding day
    "climate.dew_point": Sum("11.1", dew),
    "climate.least_surface_temperature": Sum("11.2", "{@climate.dew_point} + {margin}"),
    "climate.ready_to_bond": Sum("11.3"),
    "climate.open_time": Sum("11.4", open_time),
    "time_plan.time_limit": Sum("11.5", "{share} × {open time}"),
    "time_plan.bead_time": Sum("11.6", "{volume} / ({rate} × {guns}) + (⌈{packs} / {guns}⌉ − 1) × {pack change}"),
    "time_plan.elapsed_time": Sum("11.7", "{bead time} + {lift} + {align} + {press}"),
    "time_plan.bead_start": Sum("11.8", bead_start),
    "time_plan.primed_wait": Sum("11.9", "{last press} − {primed}"),
    "climate.saturation_pressure": Sum("11.10"),
    "climate.vapour_pressure": Sum("11.11"),
    "climate.dampest_air": Sum("11.12"),
    "climate.time_constant": Sum("11.13"),
    "climate.warm_up_time": Sum("11.14", "{time constant} × ln(({air} − {start}) / ({air} − {target}))"),
    "climate.warmest_air": Sum("11.15"),
    "time_plan.latest_lift": Sum("11.16", "{abort} − {lift} − {align} − {press}"),
    "time_plan.activated_wait": Sum("11.17", "{primed} − {wiped}"),
    # 12 cure
    "cure.cure_rate": Sum("12.1", "{standard rate} × √(2^(({air} − 23) / {doubling})) × √({humidity} / 50)"),
    "cure.days_both_open": Sum("12.2", "({bond width} / (2 × {rate}))²"),
    "cure.days_one_open": Sum("12.3", "({bond width} / {rate})²"),
    "cure.backfill_day": Sum(
        "12.4",
        faces("max({first day}; ⌈({bond width} / (2 × {rate}))²⌉)", "max({first day}; ⌈({bond width} / {rate})²⌉)"),
    ),
    "cure.days_backfilled": Sum("12.5", backfilled("bond width")),
    "cure.handling_width": Sum("12.6", "{safety} × {weight} × {dynamic factor} / ({design tension} × {bead length})"),
    "cure.least_handling_days": Sum("12.7", "{hours} / 24 × max(1; ({standard rate} / {rate})²)"),
    "cure.handling_days": Sum("12.8", handling),
    "cure.cured_depth": Sum("12.9", "{rate} × √({days})"),
    "cure.days_to_launch": Sum("12.10"),
    "cure.widest_bead": Sum("12.11", "{bond width} + 2 × {squeeze out}"),
    "cure.hose_day": Sum("12.12", "max(⌈{cured through}⌉; {backfilled after} + {sealant days})"),
    # 13 lifting
    "lifting.people_limit": Sum("13.1", people),
    "lifting.people_needed": Sum("13.2"),
    "lifting.cups_needed": Sum("13.3", "max({least}; ⌈{mass} / ({rating} × {derating})⌉)"),
    "lifting.wind_force": Sum("13.4", "0.5 × 1.225 × {wind}² × {area} / 10⁶ × {drag}"),
    "lifting.reach_share": Sum(
        "13.5", lambda inputs: "{at hand} × {above}" if inputs["height"] > inputs["shoulder"] else "{at hand}"
    ),
    "lifting.load_of_each": Sum("13.6", "{mass} / {people}"),
    # 14 quantities
    "quantities.bead_volume": Sum("14.1", "{bead area} × {bead length} / 1000"),
    "quantities.adhesive_to_buy": Sum("14.2", "{volume} × (1 + {waste}) + {purge}"),
    "quantities.packs_needed": Sum("14.3", packs),
    "quantities.backfill_volume": Sum("14.4", "{perimeter} × {joint width} × {backfill depth} × (1 + {waste}) / 1000"),
    "quantities.backer_length": Sum("14.5", "{perimeter} × (1 + {waste})"),
    "quantities.glass_primer": Sum("14.6", "{bead length} × ({bond width} + 2 × {beside}) × {coat} × {times} / 1000"),
    "quantities.frame_primer": Sum("14.7", framed),
    "quantities.activator": Sum("14.8", "2 × {bead length} × ({bond width} + 2 × {beside}) × {coat} × {times} / 1000"),
    "quantities.solvent": Sum("14.9", "{bead length} × ({frit width} + {landing}) × {coat} × {times} / 1000"),
    "quantities.masking_tape": Sum("14.10", "{lines} × {perimeter} × (1 + {waste})"),
    "quantities.shielding_tape": Sum("14.11", "({perimeter} + {corners} × {tape width}) × (1 + {waste})"),
    "quantities.cloths": Sum("14.12", "⌈{bead length} / {each}⌉ × {passes}"),
    "quantities.abrasive_pads": Sum("14.13", "⌈{bead length} / {each}⌉"),
    "quantities.blocks_to_pack": Sum("14.14", "{number} + {spare}"),
    "quantities.pack_change_place": Sum("14.16", "{number} × {pack} × {pack yield} × 1000 / {bead area}"),
    "quantities.packs_opened": Sum("14.17"),  # 14.15 was of panes pooled over sessions that nobody named
}
"""Every rule of the trade by its name. A new rule takes the next free place of its chapter: no number is used again."""

__all__ = ["CHAPTERS", "SUMS", "Sum"]
