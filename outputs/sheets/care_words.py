"""What the owner of a bonded pane is told: how to clean it, what to look for each year, how it is cut out and glazed anew in principle.

All of it is common practice, no source; the makers of adhesive, sealant and glass, and licensed practice, stand above it.
"""

from __future__ import annotations

CLEAN = (
    "Rinse off salt and sand first, then water with a little neutral soap and a soft cloth; rinse again.",
    "Dry the joint and look at it while you are there.",
)
NEVER = (
    "Never on or near the joint: solvent, thinner, acetone, petrol, acid, bleach, strong alkali, silicone remover or spray, polish, wax.",
    "Never a scraper, a blade, a scouring pad, a steam cleaner or a high-pressure jet on joint or edge.",
    "Never paint, varnish or seal over the joint; never glue film, blind or foil on the glass without asking: it heats up in the sun.",
)
YEARLY = (
    "Joint: cracked, hard, chalky, sticky, torn or come away from glass or frame.",
    "Print and what is behind it, from outside: light shining through, pale or shimmering patches, moisture.",
    "Glass: chips at the edge, scratches, cracks; of laminated glass milky or bubbled edges.",
    "Inside: water, stains, rust or a damp lining below the pane.",
    "Place: gap or flush face otherwise than in the table by more than a millimetre, or rattling.",
    "Anything found: keep away from it, keep the weather out, stay in port, ask a licensed glazier. Do not seal over it.",
)
RENEW = (
    "For trained people only, with an adhesive system of one maker for this frame and this print, and an adhesion test first.",
    "Strap or carry the pane before the first cut: the bead is all that holds it. Close off the fall zone inside and out.",
    "Cut the joint, then the bead, with wire or blade and never with heat. Never lever on the glass: toughened glass bursts.",
    "Trim the old bead or take it off, as the adhesive's maker says. Repair paint and laminate and let them cure.",
    "Measure the recess and the new pane; check the detail and draw its card anew for the day: lots, climate and clock are never those told here.",
    "Bond, hold, backfill and test by that card; write a new record.",
)
CAUTIONS = (
    "Isocyanates: never heat or burn the adhesive; it may cause allergy and asthma. Gloves, goggles, air.",
    "Glass is heavy and sharp: cut gloves, wrist guards, safety shoes; people and gear by its mass.",
    "An aid, not an approval: class and flag rules, local codes and licensed practice stand above it.",
)

__all__ = ["CAUTIONS", "CLEAN", "NEVER", "RENEW", "YEARLY"]
