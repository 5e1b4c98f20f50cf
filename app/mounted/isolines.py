"""Lines of equal value over a skin of triangles, and the parts above and below a value."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.mounted.shapes import Floats, Ints

LEAST_STEPS: Final = 4
"""Contour lines between nought and the largest value, at least."""


@dataclass(frozen=True, eq=False)
class Carried:
    """Triangles with whatever is carried along at their corners."""

    attributes: Floats
    """(n, k): positions, displacements, values; linear over each triangle."""
    triangles: Ints
    """(m, 3)."""

    def without_spares(self) -> Carried:
        """Return the same triangles with only the corners they use."""
        used, numbers = np.unique(self.triangles, return_inverse=True)
        return Carried(self.attributes[used], numbers.reshape(self.triangles.shape).astype(np.int64))


def split(whole: Carried, column: int, level: float) -> tuple[Carried, Carried]:
    """Return the parts below and above a level of one column, cut along its line."""
    value = whole.attributes[:, column]
    above = value >= level
    count = above[whole.triangles].sum(axis=1)
    low = [whole.triangles[count == 0]]
    high = [whole.triangles[count == 3]]
    attributes = [whole.attributes]
    base = len(value)
    for odd_is_above in (True, False):
        mine = whole.triangles[count == (1 if odd_is_above else 2)]
        if len(mine) == 0:
            continue
        # Turn each so that the corner alone on its side comes first.
        alone = (above[mine] == odd_is_above).argmax(axis=1)
        turned = np.stack(
            [np.take_along_axis(mine, ((alone + k) % 3)[:, None], 1)[:, 0] for k in range(3)], 1
        )
        cuts = []
        for other in (1, 2):
            a, b = turned[:, 0], turned[:, other]
            share = ((level - value[a]) / (value[b] - value[a]))[:, None]
            attributes.append((1.0 - share) * whole.attributes[a] + share * whole.attributes[b])
            cuts.append(base + np.arange(len(mine), dtype=np.int64))
            base += len(mine)
        tip = np.stack([turned[:, 0], cuts[0], cuts[1]], axis=1)
        rest = [
            np.stack([cuts[0], turned[:, 1], turned[:, 2]], axis=1),
            np.stack([cuts[0], turned[:, 2], cuts[1]], axis=1),
        ]
        (high if odd_is_above else low).append(tip)
        (low if odd_is_above else high).extend(rest)
    every = np.concatenate(attributes)
    return (
        Carried(every, np.concatenate(low)).without_spares(),
        Carried(every, np.concatenate(high)).without_spares(),
    )


def line_at(whole: Carried, column: int, level: float) -> tuple[Floats, Ints]:
    """Return the pieces (p, 2, k) of the line where a column has a value, and the chain each belongs to.

    Pieces of one chain hang together over shared edges of triangles.
    """
    value = whole.attributes[:, column]
    above = value >= level
    mixed = above[whole.triangles].any(axis=1) & ~above[whole.triangles].all(axis=1)
    mine = whole.triangles[mixed]
    if len(mine) == 0:
        return np.zeros((0, 2, whole.attributes.shape[1])), np.zeros(0, dtype=np.int64)
    odd = above[mine].sum(axis=1) == 1
    alone = (above[mine] == odd[:, None]).argmax(axis=1)
    a = np.take_along_axis(mine, alone[:, None], 1)[:, 0]
    pieces, sides = [], []
    for step in (1, 2):
        b = np.take_along_axis(mine, ((alone + step) % 3)[:, None], 1)[:, 0]
        share = ((level - value[a]) / (value[b] - value[a]))[:, None]
        pieces.append((1.0 - share) * whole.attributes[a] + share * whole.attributes[b])
        sides.append(np.sort(np.stack([a, b], axis=1), axis=1))
    _, edge = np.unique(np.concatenate(sides), axis=0, return_inverse=True)
    return np.stack(pieces, axis=1), _chains(edge.ravel().reshape(2, -1).T)


def nice_levels(highest: float, limits: tuple[float, ...]) -> list[float]:
    """Return round values for contour lines from nought up to the highest, and those limits it reaches.

    Round values within a twelfth of a limit leave the place to the limit.
    """
    if not highest > 0.0:
        return []
    rough = highest / LEAST_STEPS
    power = 10.0 ** np.floor(np.log10(rough))
    step = float(power * max(f for f in (1.0, 2.0, 2.5, 5.0) if f * power <= rough * (1.0 + 1e-9)))
    reached = [limit for limit in limits if 0.0 < limit <= highest]
    plain = [step * k for k in range(1, int(highest / step + 1e-9) + 1)]
    clear = [level for level in plain if all(abs(level - limit) > limit / 12.0 for limit in reached)]
    return sorted([*clear, *reached])


def _chains(edges: Ints) -> Ints:
    """Return the chain number of each piece (p,) from the numbers of the two edges it ends on (p, 2)."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    count = int(edges.max()) + 1
    joined = coo_array((np.ones(len(edges)), (edges[:, 0], edges[:, 1])), shape=(count, count))
    _, labels = connected_components(joined, directed=False)
    chains: Ints = np.asarray(labels, dtype=np.int64)[edges[:, 0]]
    return chains
