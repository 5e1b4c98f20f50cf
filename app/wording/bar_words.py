"""The section of a dash bar, its stays, and its share of the casing's turn, in the trade's words. No Qt."""

from __future__ import annotations

from geometry.bar_section import RectangularTube, Round, RoundTube, Section, Solid


def section_words(section: Section) -> str:
    """Return kind and sizes in mm, such as a diameter and wall; a tube needs no word for its kind."""
    if isinstance(section, Solid):
        return f"{section.kind} {outside_words(section)}"
    kind = "" if isinstance(section, RoundTube | RectangularTube) else f"{section.kind} "
    return f"{kind}{outside_words(section)} x {section.wall_mm:g}"


def outside_words(section: Section) -> str:
    """Return the outside in mm: the diameter, or width and height."""
    if isinstance(section, Round):
        return f"\u2300{section.outer_mm:g}"
    return f"{section.width_mm:g} x {section.height_mm:g}"


def stays_words(count: int) -> str:
    """Return how many stays hold a bar, after a comma; nothing for none."""
    return "" if count == 0 else f", {count} {'stay' if count == 1 else 'stays'}"
