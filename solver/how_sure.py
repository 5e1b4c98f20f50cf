"""How sure each check is: by how much it may be higher than computed, and what that comes from.

Glossary
--------
footprints   beds half and twice as stiff, whichever makes a check worse
thickness    every sheet as much thinner as it may be, one after the other, their effects added up
wall         the wall of the dash bar as thin as it may be
couple       the couple as much larger as its source leaves open; where a check has a factor on the couple,
             only what goes beyond that factor

What preload scatters by is in the demands already: its low end governs slip and opening, its high end the
bolt. The parts are added up, not combined as if they were independent: nobody has shown that they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.bracket import Bracket
from geometry.fixing import DashBar
from geometry.sheet_tolerance import tolerance_mm, wall_tolerance_mm
from solver.checking import check_all, check_without_factor
from solver.clamped_bolt import ClampedBolt
from solver.evaluation import states_of
from solver.kept_plates import KeptPlates
from solver.plies import wall_name
from solver.results import BandPart, Check, PartName
from solver.solved import Solved
from solver.stages import Stage, stage_on

_WITHOUT_FACTOR = ("turn", "lean", "movement", "fatigue")
"""How the names of checks begin that look at the couple as measured, not times its factor."""

FAINT = 1e-3
"""Used shares below this are little but rounding, and so is what they change by."""
LEAST_SHARE = 0.25
"""Of its thickness: a tolerance beyond is absurd, and a finding doubts it."""

Shares = Mapping[str, float]
"""By how much each check's used share rises, as a share of it; below nought where it falls."""


@dataclass(frozen=True)
class HowSure:
    """What each check may be higher by, but for the mesh."""

    footprints: Shares
    thickness: Shares
    wall: Shares
    couple: Shares

    def parts(self, check: str, mesh: float) -> tuple[BandPart, ...]:
        """Return the parts of one check's band, given the mesh's."""
        found: list[tuple[PartName, float]] = [
            ("mesh", mesh),
            ("footprints", self.footprints.get(check, 0.0)),
            ("thickness", self.thickness.get(check, 0.0)),
            ("wall", self.wall.get(check, 0.0)),
            ("couple", self.couple.get(check, 0.0)),
        ]
        return tuple(BandPart(name, share) for name, share in found)


def how_sure(
    bracket: Bracket,
    first: Stage,
    kept: KeptPlates,
    usual: Shares,
    on_beds: Sequence[Shares],
) -> HowSure:
    """Return what each check may be higher by, worked out on the first mesh.

    `usual` is what each check uses there, `on_beds` what it uses on beds half and twice as stiff.
    """
    couple_nm = first.couple_nm
    beds = [rises(usual, shares) for shares in on_beds]
    footprints = {name: max(0.0, *(rise.get(name, 0.0) for rise in beds)) for name in usual}
    thin = [rises(usual, used_shares(other, couple_nm)) for other in _each_thinner(bracket, first, kept)]
    thickness = {name: sum(abs(rise.get(name, 0.0)) for rise in thin) for name in usual}
    return HowSure(footprints, thickness, _of_wall(first, usual), _of_couple(bracket, first, usual))


def with_parts(checks: Sequence[Check], sure: HowSure | None) -> tuple[Check, ...]:
    """Return checks whose band is the mesh's with the other parts of it added; pencil has none of those."""
    if sure is None:
        return tuple(checks)
    found = []
    for check in checks:
        parts = sure.parts(check.name, check.band)
        found.append(replace(check, parts=parts, band=sum(part.share for part in parts)))
    return tuple(found)


def used_shares(solved: Solved, couple_nm: float) -> dict[str, float]:
    """Return the used share of each check, with nothing sliding: what slides jumps, and is a fail anyway."""
    return _used(_all_but_sliding(solved, couple_nm))


def _all_but_sliding(solved: Solved, couple_nm: float) -> tuple[Check, ...]:
    return check_all(solved, couple_nm, slide=False).checks


def _used(checks: Iterable[Check]) -> dict[str, float]:
    found: dict[str, float] = {}
    for check in checks:
        found[check.name] = max(check.used, found.get(check.name, 0.0))
    return found


def used_on_first(first: Stage) -> dict[str, float]:
    """Return the used share of each check on the first mesh; looked at anew only where something slides."""
    if first.checked.slipping:
        return used_shares(first.solved, first.couple_nm)
    return _used(first.checked.checks)


def rises(usual: Shares, other: Shares) -> dict[str, float]:
    """Return by how much each check uses more than usual, as a share of it; what is nothing is left out."""
    return {
        name: (other[name] - used) / max(used, FAINT)
        for name, used in usual.items()
        if used > 0.0 and name in other and np.isfinite(used) and np.isfinite(other[name])
    }


def _each_thinner(bracket: Bracket, first: Stage, kept: KeptPlates) -> list[Solved]:
    """Return the bracket with one plate after the other as thin as its sheet may be."""
    found = []
    for index, plate in enumerate(bracket.plates):
        kind = first.meshed[index].condensed.metal.kind
        share = 1.0 - tolerance_mm(plate, kind) / plate.thickness_mm
        if share < 1.0:
            found.append(of_other_sheet(bracket, first, kept, index, max(share, LEAST_SHARE)))
    return found


def of_other_sheet(bracket: Bracket, first: Stage, kept: KeptPlates, index: int, share: float) -> Solved:
    """Return the bracket on its first mesh, one plate of a share of its thickness about its middle."""
    plates = list(first.meshed)
    plates[index] = kept.thinner(bracket, index, first.meshed[index], share)
    again = stage_on(bracket, tuple(plates), first).solved
    # What bears in the thin plate bears as much less.
    return replace(again, bolts=_through_thinner(again.bolts, bracket.plates[index].name, share))


def _of_wall(first: Stage, usual: Shares) -> dict[str, float]:
    bar = first.solved.bracket.dash_bar
    if bar is None or not (off := wall_tolerance_mm(bar.section)):
        return {}
    share = 1.0 - off / bar.section.wall_mm
    rise = rises(usual, used_shares(_of_thinner_wall(first, bar, share), first.couple_nm))
    return {name: max(0.0, more) for name, more in rise.items()}


def _of_thinner_wall(first: Stage, bar: DashBar, share: float) -> Solved:
    """Return the bracket on its first mesh, its bar's wall a share as thick; bolts and plates stay."""
    whole = first.solved
    bracket = whole.bracket.but(
        dash_bar=bar.but(section=bar.section.but(wall_mm=bar.section.wall_mm * share))
    )
    return replace(
        whole,
        bracket=bracket,
        bolts=_through_thinner(whole.bolts, wall_name(bar), share, wall_share=share),
        states=states_of(bracket, whole.plates, whole.linkage, whole.cases),
    )


def _through_thinner(
    bolts: Mapping[str, ClampedBolt], thin: str, share: float, *, wall_share: float = 1.0
) -> dict[str, ClampedBolt]:
    """Return bolts that bear as much less in one thing that they go through; the rules stay the nominal's."""
    return {
        name: replace(
            bolt,
            bearing_n=bolt.bearing_n * (share if bolt.bearing_plate == thin else 1.0),
            pulled_through_n=bolt.pulled_through_n * (share if bolt.pulled_through == thin else 1.0),
            wall_n=bolt.wall_n * wall_share**2,
        )
        for name, bolt in bolts.items()
    }


def _of_couple(bracket: Bracket, first: Stage, usual: Shares) -> dict[str, float]:
    more, factor = 1.0 + bracket.loads.couple_may_be_more, bracket.loads.couple_factor
    found: dict[str, float] = {}
    for taken, wanted in ((more, True), (more / factor, False)):
        if taken <= 1.0:
            continue
        couple_nm = first.couple_nm * taken
        # Couples that a spectrum lists were read by the same source: they may be as much more.
        checks = (
            check_without_factor(first.solved, couple_nm, taken)
            if wanted
            else _all_but_sliding(first.solved, couple_nm)
        )
        rise = rises(usual, _used(checks))
        found |= {
            name: max(0.0, share)
            for name, share in rise.items()
            if name.startswith(_WITHOUT_FACTOR) == wanted
        }
    return found
