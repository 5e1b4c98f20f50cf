"""Who works asides out beside an analysis: a second process, where this one has been given one.

Light to import: a process that is about to analyse has its helper started before it imports the solver.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from geometry.bracket import Bracket
    from geometry.solid_mesh import SolidMesh
    from solver.around.line import AroundLine
    from solver.asides import Asides
    from solver.lost_bolts import LostBolt
    from solver.solved import Solved


class HelperLostError(Exception):
    """The helper cannot answer; why does not matter: what it was asked is worked out without it."""


class Helper(Protocol):
    """A second process that is asked while the first goes on.

    Its answers are bit for bit those that the first would find. What `begin_...` returns gives the answer, or
    raises HelperLostError.
    """

    def begin_around(self, bracket: Bracket) -> Callable[[], tuple[AroundLine, ...]]:
        """Ask what is to be said around a bracket; whatever was asked before is dropped."""
        ...

    def begin_asides(self, bracket: Bracket, meshes: Sequence[SolidMesh]) -> Callable[[], Asides]:
        """Ask for the asides of a bracket that can be solved, on the first mesh of each plate."""
        ...

    def begin_lost(self, solved: Solved, couple_nm: float) -> Callable[[], tuple[LostBolt, ...]]:
        """Ask for a solved bracket with each bolt out in turn."""
        ...


_HELPERS: list[Helper] = []


def have_helper(helper: Helper | None) -> None:
    """Have every analysis of this process ask a helper from now on; with None, none."""
    _HELPERS[:] = [] if helper is None else [helper]


def helper_had() -> Helper | None:
    """Return the helper of this process, if it has one."""
    return _HELPERS[0] if _HELPERS else None
