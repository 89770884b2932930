"""The bonding day: people, gear, and how long each piece of work takes. Type what yours need.

Terms
-----
longest wait
    How long a wiped or primed face may wait for what comes next; from the data sheet of what was put on it.
flash-off
    Waiting time of an activator or primer, least.
"""

from __future__ import annotations

import datetime
from typing import Annotated

from geometry.job import fields as f
from geometry.job.fields import Reads, Table, setting, whole

HeatTransfer = Annotated[float, f.Measure("heat transfer", "W/(m2 K)", above=0, at_most=1000)]
ClockStep = Annotated[float, f.Measure("time", "min", at_least=0, at_most=60)]


class Work(Table):
    """People, gear and rates of the time plan (common practice, no source, unless said otherwise): type what yours need."""

    start: f.Clock = setting(
        datetime.time(8, 0), "when the work begins, such as 08:00:00 without quotes", shown_default="08:00:00"
    )
    people: Annotated[int, Reads(whole(1, 20))] = setting(2, "fitters at hand")
    lifting_gear: f.Flag | None = setting(
        None, "true: lifting gear is at hand; left out: where the people do not suffice", absent="worked out"
    )
    cups: Annotated[int, Reads(whole(1, 200))] | None = setting(
        None, "suction cups at hand; left out: as many as are needed", absent="worked out"
    )
    cup_rating: Annotated[float, f.Measure("mass", "kg", above=0, at_most=2000)] = setting(
        25.0, "marked rating of one suction cup"
    )
    cup_step: f.Mass = setting(5.0, "step in which ratings of suction cups rise, for what to take instead")
    height: f.SizeOrZero = setting(
        1000.0, "height of the pane's middle over where the fitters stand (own default: about the waist)"
    )
    frame_wipe_longest: f.PositiveMinutes | None = setting(
        None, "longest wait from the wipe of the landing to its primer; left out: not checked"
    )
    glass_wipe_longest: f.PositiveMinutes | None = setting(
        None, "longest wait from the activator on the glass to its primer; left out: not checked"
    )
    reach_share: f.PositiveShare = setting(
        100.0, "share of what people lift close to the body that counts: 50 at arm's length (from memory of guidance)"
    )
    frame_primer_longest: f.PositiveMinutes | None = setting(
        None, "longest wait after priming the landing; left out: not checked"
    )
    glass_primer_longest: f.PositiveMinutes | None = setting(None, "longest wait after priming the glass; left out: not checked")
    guns: Annotated[int, Reads(whole(1, 10))] = setting(1, "guns that lay the bead at the same time")
    bead_rate: f.Flow = setting(60.0, "adhesive one gun lays: hand gun 60, powered gun 120 (from memory)")
    powered_gun: f.Flow = setting(120.0, "adhesive one powered gun lays, for what to take instead (from memory)")
    pack_change: f.Minutes = setting(1.5, "changing a pack")
    open_time_share: f.PositiveShare = setting(80.0, "share of the open time that may be used")
    abrade: f.MinutesPerMetre = setting(1.5, "abrading the landing")
    frame_wipe: f.MinutesPerMetre = setting(0.5, "wiping the landing with cleaner or activator")
    frame_wipe_flash: f.Minutes = setting(15.0, "flash-off after the wipe of the landing")
    frame_primer: f.MinutesPerMetre = setting(0.7, "priming the landing")
    frame_primer_flash: f.Minutes = setting(20.0, "flash-off of the primer on the landing")
    goods_in: f.Minutes = setting(5.0, "checking the pane on arrival")
    clean: f.MinutesPerArea = setting(4.0, "cleaning the glass")
    clean_least: f.Minutes = setting(3.0, "cleaning the glass, least")
    mask: f.MinutesPerMetre = setting(0.6, "masking, each line")
    mask_lines: Annotated[int, Reads(whole(1, 10))] = setting(2, "lines of masking on the glass before it is primed")
    glass_wipe: f.MinutesPerMetre = setting(0.5, "activator on the bond line of the glass")
    glass_wipe_flash: f.Minutes = setting(15.0, "flash-off of the activator")
    glass_primer: f.MinutesPerMetre = setting(0.7, "black primer on the glass")
    glass_primer_flash: f.Minutes = setting(20.0, "flash-off of the primer on the glass")
    unmask: f.MinutesPerMetre = setting(0.5, "taking the masking off")
    climate_check: f.Minutes = setting(3.0, "reading air, humidity and the surfaces before the bead (own default)")
    clock_step: ClockStep = setting(
        15.0, "the bead starts when the clock shows a multiple of this; 0: as soon as both faces are ready (own default)"
    )
    alarm_ahead: f.Minutes = setting(
        5.0, "how long before a longest wait, the last lift and the abort the card's page calls (own default)"
    )
    set_out: f.Minutes = setting(4.0, "spacers, chocks and gun made ready")
    lift: f.Minutes = setting(3.0, "lifting in by hand")
    lift_with_gear: f.Minutes = setting(6.0, "lifting in with gear")
    align: f.Minutes = setting(4.0, "aligning on chocks and marks, by hand")
    align_with_gear: f.Minutes = setting(6.0, "aligning with gear")
    press: f.Minutes = setting(3.0, "pressing to the spacers")
    press_large: f.Minutes = setting(4.0, "pressing a large pane")
    large_pane: f.Area = setting(1.5, "area from which a pane is large")
    heat_transfer: HeatTransfer = setting(8.0, "heat from still air to each face of a pane that warms up (from memory)")


__all__ = ["Work"]
