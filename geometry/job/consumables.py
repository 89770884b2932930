"""What a fitting uses up beside adhesive and sealant: coats, tapes, cloths, spares. Type what your shop uses.

Terms
-----
coat
    Liquid that one treatment leaves on a surface.
times
    What is poured out for each ml that stays on the surface: pot, brush and cloth keep the rest.
"""

from __future__ import annotations

from typing import Annotated

from geometry.job import fields as f
from geometry.job.fields import Reads, Table, setting, whole

Coat = Annotated[float, f.Measure("coat", "l/m2", above=0, at_most=10)]
Times = Annotated[float, f.Measure("number", "", at_least=1, at_most=20)]


class Consumables(Table):
    """Rates of the list of quantities."""

    primer_coat: Coat = setting(0.15, "primer on glass and frame (from memory)")
    primer_times: Times = setting(2.0, "primer poured for each ml on the surface: the pot keeps the rest (from memory)")
    activator_coat: Coat = setting(0.05, "activator on glass and frame (from memory)")
    activator_times: Times = setting(2.0, "activator poured for each ml on the surface: the cloth keeps the rest (from memory)")
    beside_bead: f.SizeOrZero = setting(3.0, "primer and activator beside the bead, each side (from memory)")
    cleaner_coat: Coat = setting(0.1, "cleaner on printed band and landing (from memory)")
    cleaner_times: Times = setting(1.5, "cleaner poured for each ml on the surface (from memory)")
    backer_waste: f.Share = setting(
        5.0, "waste added to the length of backer and bond-breaker tape: joints (common practice, no source)"
    )
    tape_waste: f.Share = setting(10.0, "waste added to the length of masking and shielding tape (common practice, no source)")
    masking_lines: Annotated[int, Reads(whole(1, 20))] = setting(
        4, "lines of masking tape round the pane: two on the glass, two at the backfill (common practice, no source)"
    )
    wipes: Annotated[int, Reads(whole(1, 20))] = setting(
        4, "wipes of glass and frame together, each with fresh cloths (common practice, no source)"
    )
    bead_per_cloth: f.Size = setting(2000.0, "bead line that one cloth wipes (common practice, no source)")
    landing_per_pad: f.Size = setting(4000.0, "landing that one abrasive pad abrades (common practice, no source)")
    spare_blocks: Annotated[int, Reads(whole(0, 100))] = setting(
        2, "spare spacers and chocks of each size to pack (common practice, no source)"
    )
    packs_in_hand: Annotated[int, Reads(whole(0, 20))] = setting(
        1, "packs in hand for each session beyond what is counted (common practice, no source)"
    )


__all__ = ["Consumables"]
