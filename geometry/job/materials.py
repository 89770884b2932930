"""The office's own figures of materials, in place of the register of materials. What is left out comes from the register.

Terms
-----
register of materials
    ``geometry.rules.materials``: one table of expansion, density, stiffness and strength, each entry with source and status.
"""

from __future__ import annotations

from typing import Annotated

from geometry.job import fields as f
from geometry.job.fields import Table, setting

GlassExpansion = Annotated[float, f.Measure("expansion", "1/K", at_least=0, at_most=3e-4)]
SpecificHeat = Annotated[float, f.Measure("specific heat", "J/(kg K)", above=0, at_most=10_000)]
Modulus = Annotated[float, f.Measure("pressure", "MPa", above=0, at_most=1_000_000)]
Strength = Annotated[float, f.Measure("pressure", "MPa", above=0, at_most=2000)]
Poisson = Annotated[float, f.Measure("number", "", at_least=0, at_most=0.49)]
RefractiveIndex = Annotated[float, f.Measure("number", "", at_least=1.01, at_most=3.9)]


class GlassMaterial(Table):
    """Overrides for the glass."""

    expansion: GlassExpansion | None = setting(None, "expansion of glass", absent="default", shown_default="9e-6")
    density: f.Density | None = setting(None, "density of glass", absent="default", shown_default="2500")
    young_modulus: Modulus | None = setting(None, "Young's modulus of glass", absent="default", shown_default="70000")
    poisson: Poisson | None = setting(
        None, "Poisson's ratio of glass (from memory; standards give 0.2 to 0.23)", absent="default", shown_default="0.23"
    )
    strength: Strength | None = setting(
        None,
        "characteristic bending strength; the bent pane's stress is looked at beyond it over limits.glass_factor, and never approved",
        absent="default",
        shown_default="by treatment, from the register of materials",
    )
    specific_heat: SpecificHeat | None = setting(
        None,
        "specific heat of glass for the warm-up time (from memory, the high end; EN 572-1 has 720)",
        absent="default",
        shown_default="840",
    )
    refractive_index: RefractiveIndex | None = setting(
        None, "refractive index of glass (from memory)", absent="default", shown_default="1.52"
    )


class InterlayerMaterial(Table):
    """Override for the interlayer."""

    density: f.Density | None = setting(
        None,
        "density of the interlayer",
        absent="default",
        shown_default="by interlayer_material: pvb 1070, ionoplast 950, eva 950",
    )


class FrameMaterial(Table):
    """Override for one frame material."""

    expansion: f.Expansion | None = setting(
        None, "expansion of this frame material", absent="default", shown_default="from the register of materials"
    )


class Materials(Table):
    """The office's own figures in place of the register of materials."""

    glass: GlassMaterial = setting(GlassMaterial(), "glass")
    interlayer: InterlayerMaterial = setting(InterlayerMaterial(), "interlayer")
    aluminium: FrameMaterial = setting(FrameMaterial(), "aluminium")
    steel: FrameMaterial = setting(FrameMaterial(), "mild steel")
    stainless: FrameMaterial = setting(FrameMaterial(), "stainless steel")
    grp: FrameMaterial = setting(FrameMaterial(), "glass-fibre laminate")
    timber_along: FrameMaterial = setting(FrameMaterial(), "timber along the grain")
    timber_across: FrameMaterial = setting(FrameMaterial(), "timber across the grain")
    plywood: FrameMaterial = setting(FrameMaterial(), "plywood")
    cfrp: FrameMaterial = setting(FrameMaterial(), "carbon-fibre laminate")


__all__ = ["FrameMaterial", "GlassMaterial", "InterlayerMaterial", "Materials"]
