"""Sizes of washers and spacers as they are bought: a standard washer by its thread, in its units. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from geometry.bolt_tables import COLUMN_SOURCES, BoltSize, System
from geometry.fixing import Spacer, Washer

_INCH_MM: Final = 25.4


def standard_sizes(size: BoltSize) -> str:
    """Return outer x inner x thickness of a thread's standard washer, in inches where the thread is."""
    sizes_mm = (size.washer_outer_mm, size.washer_inner_mm, size.washer_thickness_mm)
    if size.system == "metric":
        return _sizes(sizes_mm)
    return f"{' x '.join(f'{side / _INCH_MM:.3f}' for side in sizes_mm)} in"


def standard_washer(size: BoltSize) -> str:
    """Return the standard washer of a thread as it is asked for: `for M8, 16 x 8.4 x 1.6 mm`."""
    thread = size.name.partition("x" if size.system == "metric" else "-")[0]
    return f"for {thread}, {standard_sizes(size)}"


def washer_sizes(washer: Washer) -> str:
    """Return outer x inner x thickness, in mm."""
    return _sizes((washer.outer_mm, washer.inner_mm, washer.thickness_mm))


def spacer_sizes(spacer: Spacer) -> str:
    """Return outer x inner x length, in mm."""
    return _sizes((spacer.outer_mm, spacer.inner_mm, spacer.length_mm))


def washer_sources(systems: Iterable[System]) -> str:
    """Return the standards that the standard washers of those threads have their sizes from."""
    return "; ".join(COLUMN_SOURCES[f"{system} washers"] for system in systems)


def _sizes(sizes_mm: tuple[float, ...]) -> str:
    return f"{' x '.join(f'{side:g}' for side in sizes_mm)} mm"
