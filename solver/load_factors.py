"""At what multiple of its load an elastic solid buckles: block Lanczos iteration.

The least t > 0 at which (K + t K_g) x = 0 has a solution is one over the largest eigenvalue of
x -> K^-1 (-K_g) x, which is symmetric in the inner product x' K y (Parlett, The Symmetric Eigenvalue Problem,
chapter 15; Grimes, Lewis and Simon, SIAM J. Matrix Anal. 15, 1994; both from memory). Only K^-1 is asked for,
never K. Several loads on one solid are iterated at once: a sweep through the factor costs hardly more for
many columns than for one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BLOCK = 2
"""Start columns of each load: a pair of modes that buckle together costs no more steps than one."""
MOST_STEPS = 40
"""Sweeps at most, so that no plate can keep the program busy for ever; slender ones take 6 to 20."""
LEAST_STEPS = 3
"""Before a factor is said to be no less than something: by then the supplest movements have shown."""
SETTLED = 0.02
"""Residual over eigenvalue that is good enough: the eigenvalue itself is then off by its square."""
_NOTHING = 1e-10


@dataclass(frozen=True)
class Buckles:
    """At what multiple of its load a solid buckles, and how."""

    factor: float
    """inf where the load takes off no stiffness at all, nan where the iteration did not settle."""
    shape: Floats
    """(m,) the movement, of any size."""
    steps: int
    settled: bool
    """Whether the factor is that of the shape; else it is only known to be no less."""


def load_factors(
    answer: Callable[[Floats], Floats],
    takings: Sequence[Callable[[Floats], Floats]],
    unknowns: int,
    enough: float = float("inf"),
) -> list[Buckles]:
    """Return how a solid buckles under each of several loads; above a factor `enough` only that it does not.

    `answer` returns K^-1 of forces (m, c BLOCK), those of the loads side by side; each of `takings` returns
    -K_g of its load times movements (m, k).
    """
    start = np.random.default_rng(0).standard_normal((unknowns, BLOCK))
    moved = answer(np.tile(start, (1, len(takings))))
    spaces = [
        _Space(taking, moved[:, BLOCK * i : BLOCK * (i + 1)], start, enough)
        for i, taking in enumerate(takings)
    ]
    for _ in range(MOST_STEPS):
        if all(space.done for space in spaces):
            break
        moved = answer(np.hstack([space.asked for space in spaces]))
        for i, space in enumerate(spaces):
            if not space.done:
                space.widen(moved[:, BLOCK * i : BLOCK * (i + 1)])
    return [space.buckles() for space in spaces]


class _Space:
    """The movements tried so far for one load, orthonormal in the energy, with K x and -K_g x of each."""

    def __init__(
        self, taking: Callable[[Floats], Floats], moved: Floats, forces: Floats, enough: float
    ) -> None:
        self._taking, self._enough = taking, enough
        self._moved, self._forces, self._taken = (np.zeros((len(moved), 0)) for _ in range(3))
        self._shares = np.zeros((0, 0))
        self.steps, self.done, self._settled, self._factor = 0, False, True, float("nan")
        self._shape = np.zeros(len(moved))
        self._add(moved, forces)

    @property
    def asked(self) -> Floats:
        """Return the forces (m, BLOCK) whose answer widens the space next."""
        last = self._taken[:, -BLOCK:]
        return np.pad(last, ((0, 0), (0, BLOCK - last.shape[1])))

    def widen(self, moved: Floats) -> None:
        """Take in the answer to what was asked, and see whether the largest eigenvalue has settled."""
        self.steps += 1
        count = self._moved.shape[1]
        asked = self.asked
        values, vectors = np.linalg.eigh(self._shares)
        left, forces = self._beside(moved, asked)
        last = min(BLOCK, count)
        ends = vectors[-last:, -1]
        gram = left[:, :last].T @ forces[:, :last]
        residual = float(np.sqrt(max(ends @ gram @ ends, 0.0)))
        value = float(values[-1])
        self._shape = self._moved @ vectors[:, -1]
        if value > 0.0 and residual <= SETTLED * value:
            self.done, self._factor = True, 1.0 / value
            return
        sure = max(value, 0.0) + residual
        if self.steps >= LEAST_STEPS and 0.0 < sure < 1.0 / self._enough:
            self.done, self._settled, self._factor = True, False, 1.0 / sure
            return
        if not self._add(left, forces):
            # Nothing new: the space holds every movement the load can drive.
            self.done, self._factor = True, 1.0 / value if value > 0.0 else float("inf")

    def buckles(self) -> Buckles:
        """Return what was found."""
        return Buckles(self._factor, self._shape, self.steps, self._settled)

    def _beside(self, moved: Floats, forces: Floats) -> tuple[Floats, Floats]:
        """Return the part that is K-orthogonal to the space; twice, for rounding."""
        for _ in range(2):
            along = self._forces.T @ moved
            moved, forces = moved - self._moved @ along, forces - self._forces @ along
        return moved, forces

    def _add(self, moved: Floats, forces: Floats) -> bool:
        gram = moved.T @ forces
        size = np.sqrt(np.maximum(np.diag(gram), 1e-300))
        values, vectors = np.linalg.eigh(0.5 * (gram + gram.T) / np.outer(size, size))
        scale = max(float(np.max(size)), 0.0)
        largest = float(np.abs(self._shares).max(initial=0.0)) or scale
        kept = (values > _NOTHING * values[-1]) & (scale > _NOTHING * largest)
        if not kept.any():
            return False
        onto = vectors[:, kept] / np.sqrt(values[kept]) / size[:, None]
        moved, forces = moved @ onto, forces @ onto
        # Two columns of a pair stay within rounding of the space they were made orthogonal to.
        moved, forces = self._beside(moved, forces)
        taken = self._taking(moved)
        if not taken.any() and not self._taken.any():
            self.done, self._factor = True, float("inf")
        self._moved = np.hstack([self._moved, moved])
        self._forces = np.hstack([self._forces, forces])
        self._taken = np.hstack([self._taken, taken])
        shares = self._moved.T @ self._taken
        self._shares = 0.5 * (shares + shares.T)
        return True
