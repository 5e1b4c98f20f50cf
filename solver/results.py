"""What an analysis answers: frozen, complete, and free of anything that has to be called in order.

Glossary
--------
used     demand over allowable, as a fraction; 1 is the limit
band     share of the used share by which it may be higher, for mesh, model of the footprints, thickness of
         the sheet and couple together; each check is judged at its upper end
ink      a figure that was refined; a figure that was not is pencil, and carries no verdict
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.finding import Finding
from geometry.solid_mesh import SolidMesh
from geometry.stiffness_ranges import HighEnds
from solver.around.line import AroundLine
from solver.largest import largest_of
from solver.weld_result import WeldResult

Verdict = Literal["pass", "marginal", "fail", "no verdict"]
State = Literal["stuck", "slipped", "out"]
Floats = NDArray[np.float64]


PartName = Literal["mesh", "footprints", "thickness", "wall", "couple"]


@dataclass(frozen=True)
class BandPart:
    """One thing that makes a check less sure."""

    name: PartName
    share: float
    """Of the used share."""


@dataclass(frozen=True)
class Check:
    """One thing the bracket is held to."""

    name: str
    demand: float
    allowable: float
    unit: str
    band: float
    source: str
    where: str
    case: str = ""
    """Load case that governs it, in words."""
    by_hand: float | None = None
    """The demand by closed form, in the same unit, where one exists."""
    by_hand_words: str = ""
    note: str = ""
    kind: Literal["strength", "movement", "rule", "share"] = "strength"
    """A `share` above its limit is marginal, not a fail; a `rule` is met or broken."""
    parts: tuple[BandPart, ...] = ()
    """What its band is the sum of; none where the band is one figure."""
    without_factor: float | None = None
    """Demand at the couple without its factor, as much larger as its source leaves open, of a check that is
    marginal where this is within its allowable; None of any other."""

    @property
    def used(self) -> float:
        """Return demand over allowable, as a fraction, without the band."""
        return self.demand / self.allowable if self.allowable > 0 else float("inf")

    @property
    def used_upper(self) -> float:
        """Return the used share at the band's upper end, which is what the verdict takes."""
        return self.used * (1.0 + self.band)

    @property
    def mesh_band(self) -> float:
        """Return the share of the band that the meshes leave open: all of it where it has no parts."""
        return next((p.share for p in self.parts if p.name == "mesh"), self.band)

    def band_without(self, name: PartName) -> float:
        """Return the band less one of its parts."""
        return self.band - sum(part.share for part in self.parts if part.name == name)

    @property
    def largest_part(self) -> BandPart | None:
        """Return what the band comes from most; None where it has no parts."""
        return max(self.parts, key=lambda part: part.share, default=None)


def governing(checks: Iterable[Check]) -> Check | None:
    """Return the check nearest to its limit, of those that can fail; None where there is none.

    A rule that is met is no percentage: only a broken one can govern.
    """
    can = [c for c in checks if c.kind != "share" and (c.kind != "rule" or c.used_upper > 1.0)]
    return largest_of(can, lambda c: c.used_upper) if can else None


@dataclass(frozen=True)
class FreeMotion:
    """A movement nothing resists: a mechanism."""

    words: str
    driven_by: tuple[str, ...]
    """Names of the load cases that drive it."""
    moves_casing: bool
    bodies: dict[str, Floats]
    """Rigid motion of each body: three translations in mm and three rotations in rad, about the origin; any
    scale."""


@dataclass(frozen=True)
class BoltResult:
    """What one bolt carries, worst over the load cases."""

    name: str
    state: State
    shear_n: float
    tension_n: float
    spin_nm: float
    tilt_nm: float
    slip_used: float | None
    """Largest slip use while stuck; None where no preload or friction is known."""
    case: str


@dataclass(frozen=True)
class ConnectionSheet:
    """Forces that one connection puts on its plate in one load case: the equilibrium sheet's row."""

    bolt: str
    force_n: Floats
    """(3,) in space."""
    moment_nmm: Floats
    """(3,) about the middle of the mating face."""
    at_mm: Floats


@dataclass(frozen=True)
class CaseResult:
    """One load case in one state of the connections."""

    name: str
    words: str
    state: Literal["stuck", "all slipped", "sliding"]
    turn_deg: float
    lean_deg: float
    movement_mm: float
    """Largest movement of any point of plates or casing envelope."""
    sheets: tuple[ConnectionSheet, ...]
    unbalance: float
    """Largest residual of force equilibrium of any plate over the largest connection force: rounding only."""
    casing_motion: Floats = field(default_factory=lambda: np.zeros(6))
    """(6,) shift of the origin in mm and turn in rad."""
    bar_stations_mm: Floats = field(default_factory=lambda: np.zeros(0))
    """(m,) of places along the dash bar, its ends included, rising; none without a bar."""
    bar_motions: Floats = field(default_factory=lambda: np.zeros((0, 6)))
    """(m, 6) shift in mm and turn in rad of the bar at each of them."""


@dataclass(frozen=True)
class OneBoltLost:
    """The bracket with one bolt gone."""

    bolt: str
    worst_check: str
    worst_used: float
    free_motion: str
    """Words of a free motion of the casing that its loss leaves; empty if none."""
    band: float = 0.0
    """Of the same check of the whole bracket."""

    @property
    def used_upper(self) -> float:
        """Return what is used at the upper end of the band."""
        return self.worst_used * (1.0 + self.band)


@dataclass(frozen=True)
class CasingMovement:
    """Movement of the casing under the couple as measured, worst sign, low stiffnesses."""

    turn_deg: float
    lean_deg: float
    movement_mm: float
    lash_deg: float
    """Largest turn before slipped bolts come hard against their holes, both ways together."""


@dataclass(frozen=True)
class TurnShare:
    """How much of the casing's turn under the couple as measured comes from one part."""

    name: str
    share: float
    """Of 1."""


@dataclass(frozen=True)
class CasingAnswer:
    """How the casing answers loads on it, in one state of the connections."""

    taken: Literal["stuck", "all slipped"]
    high: HighEnds
    """The ranges of stiffness that are at their high end."""
    motions: Floats
    """(6, 6) shift in mm and turn in rad about the reference, a column for each N along and N.mm about X, Y,
    Z."""
    held: tuple[bool, ...]
    """Per column, whether it drives no free motion; the column means nothing where it does."""
    reference_mm: Floats
    """(3,) the point that loads and motions are about."""


@dataclass(frozen=True)
class FrictionShare:
    """How much of the resistance to the couple rests on bolt friction."""

    share: float
    stuck_nm_per_deg: float
    slipped_nm_per_deg: float


@dataclass(frozen=True)
class PlateField:
    """Stress and displacement of one plate, for drawing."""

    plate: str
    mesh: SolidMesh
    displacement_mm: Floats
    """(n, 3) at every node, for the governing case of the plate."""
    von_mises_mpa: Floats
    """(n_vertex,) worst of all cases, at mesh.vertex_nodes."""
    allowable_mpa: float
    judged: NDArray[np.bool_]
    """(n_vertex,) whether the place is on or outside the judged circles."""
    case: str
    case_displacements_mm: NDArray[np.float32] = field(
        default_factory=lambda: np.zeros((0, 0, 3), np.float32)
    )
    """(cases, n_vertex, 3) at mesh.vertex_nodes, in the order of Results.cases; for drawing."""


@dataclass(frozen=True)
class Accuracy:
    """How sure the figures are."""

    refined: bool
    unknowns: tuple[int, ...]
    """Of each mesh solved, coarse first."""
    ratio: float
    """Of element sizes between the last two."""
    change: dict[str, float]
    """Relative change of each check's demand between the last two meshes."""
    words: str
    footprints: str
    """What hangs on the model of the footprints, in a sentence; empty for pencil."""


@dataclass(frozen=True)
class Swing:
    """One motion the casing makes by itself, with every connection stuck."""

    hz: float
    casing: Floats
    """(6,) motion of the casing about its reference point, of any size."""
    words: str


@dataclass(frozen=True)
class Results:
    """Everything one analysis says of one bracket."""

    title: str
    verdict: Verdict
    reasons: tuple[str, ...]
    couple_nm: float | None
    couple_factor: float
    couple_source: str
    holds_to_nm: float | None
    ended_by: str
    """The check that ends it, in words; empty if no verdict."""
    friction_fails_nm: float | None
    """Couple at which friction alone fails in the worst load case, plates rigid; None if unknown or never."""
    governs: Check | None
    checks: tuple[Check, ...]
    casing: CasingMovement | None
    friction_share: FrictionShare | None
    free_motions: tuple[FreeMotion, ...]
    bolts: tuple[BoltResult, ...]
    cases: tuple[CaseResult, ...]
    one_bolt_lost: tuple[OneBoltLost, ...]
    plates: tuple[PlateField, ...]
    accuracy: Accuracy
    findings: tuple[Finding, ...]
    assumptions: tuple[str, ...]
    """Each a sentence; those looser than the default or unusual first and marked by `flagged`."""
    flagged: tuple[str, ...]
    not_computed: tuple[str, ...]
    hash: str
    version: str
    seconds: dict[str, float] = field(default_factory=dict)
    """Timings by stage; they enter no comparison."""
    around: tuple[AroundLine, ...] = ()
    """What is said around the bracket: shaft joints, cable and fuse, collapse travel, room."""
    swing: Swing | None = None
    """The slowest motion the casing makes by itself; None where nothing was solved."""
    casing_answers: tuple[CasingAnswer, ...] = ()
    """In every state that was answered; none where nothing was solved."""
    turn_shares: tuple[TurnShare, ...] = ()
    """What the casing's turn comes from, the largest first, every connection stuck and ranges of stiffness at
    their low side; they add up to one. None where nothing was solved."""
    welds: tuple[WeldResult, ...] = ()
    """What every weld carries; none where nothing was solved."""

    @property
    def sentence(self) -> str:
        """Return the verdict as it is always written.

        With its couple, the couple's source and what it holds to.
        """
        word = self.verdict.upper()
        if self.couple_nm is None:
            return f"{word}: the couple is blank"
        text = f"{word} for {self.couple_nm:.3g} N.m ({self.couple_source})"
        if self.holds_to_nm == 0.0:
            text += f"; holds to no couple at all: {self.ended_by}"
        elif self.holds_to_nm is not None:
            text += f"; holds to {self.holds_to_nm:.3g} N.m"
            if self.ended_by:
                text += f", then {self.ended_by}"
        return text


@dataclass(frozen=True)
class QuickAnswer:
    """What the quick path says. It is pencil: no verdict rests on it."""

    casing: CasingMovement | None
    """None where nothing holds the casing."""
    bolts: tuple[BoltResult, ...]
    checks: tuple[Check, ...]
    """Without the stress of plates."""
    free_motions: tuple[FreeMotion, ...]
