"""What swings with the couple: places of one category, with their stress for 1 N.m and at rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from solver.rigid import Floats

KEPT_PULLED: Final = 1e6
"""Mean stress, MPa, of what is pulled all the while, such as by preload or by what welding leaves: then no
part of the swing compresses."""


@dataclass(frozen=True)
class Swinging:
    """Places that swing with the couple, all of one category."""

    name: str
    category_mpa: float
    per_nm: Floats
    """(m,) stress for 1 N.m of couple as measured, MPa."""
    mean: Floats
    """(m,) stress it swings about, MPa."""
    where: tuple[str, ...]
    case: str
    shear: bool = False
    """Whether it is a shear stress, of one slope throughout."""
