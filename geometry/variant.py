"""A variant: another layout kept in the same file.

Only what makes a layout is kept: plates, bolts, welds and the anchors they lead to. Casing, column, dash bar,
materials, loads and limits are those of the one car, so that two layouts are always compared on the same
ground and a figure put right in one is right in all.
"""

from __future__ import annotations

from geometry.fixing import Anchor, Bolt
from geometry.part import Name, Part
from geometry.plate import Plate
from geometry.weld import Weld


class Variant(Part):
    """One layout that is kept and not judged."""

    name: Name
    plates: tuple[Plate, ...] = ()
    bolts: tuple[Bolt, ...] = ()
    welds: tuple[Weld, ...] = ()
    anchors: tuple[Anchor, ...] = ()
