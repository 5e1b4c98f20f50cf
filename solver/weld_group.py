"""A group of welds as lines of one throat: line forces of a force and a couple in its plane.

As bolts do in `bolt_group`, the lines share what turns them by their distance from the middle (Bhandari,
Design of Machine Elements, chapter 8; Blodgett, Design of Welded Structures, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Run = tuple[tuple[float, float], tuple[float, float]]


def group_line_forces(
    runs: Sequence[Run], force_n: tuple[float, float] = (0.0, 0.0), at_mm: tuple[float, float] = (0.0, 0.0)
) -> Floats:
    """Return (runs, 2 ends, 2) line forces, N/mm, of a force at a place in the plane of the welds.

    Direct shear over the whole length, and M r / J about the middle of the lines. ValueError for welds of no
    length.
    """
    ends = np.asarray(runs, dtype=float)
    spans = ends[:, 1] - ends[:, 0]
    lengths = np.linalg.norm(spans, axis=1)
    total = float(lengths.sum())
    if not total > 0.0:
        raise ValueError("welds of no length carry nothing: give both ends of each")
    middles = ends.mean(axis=1)
    centre = lengths @ middles / total
    polar = float((lengths**3 / 12.0).sum() + lengths @ ((middles - centre) ** 2).sum(axis=1))
    force = np.asarray(force_n, dtype=float)
    reach = np.asarray(at_mm, dtype=float) - centre
    moment = float(reach[0] * force[1] - reach[1] * force[0])
    arms = ends - centre
    turning = np.stack([-arms[..., 1], arms[..., 0]], axis=-1) * (moment / polar)
    return np.asarray(force / total + turning)
