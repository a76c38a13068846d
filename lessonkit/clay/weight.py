"""What wet clay weighs."""

from __future__ import annotations


def mass_g(area_mm2: float, thickness_mm: float, density_g_cm3: float) -> float:
    """Mass of a flat wet piece. A disc of 254 mm, 6.35 mm thick, at 1.95 g/cm³ weighs 627 g."""
    return area_mm2 * thickness_mm / 1000 * density_g_cm3
