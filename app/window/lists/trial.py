"""What is tried without being drawn: another couple, tightening, friction; bolts loosened or out. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from geometry.bolt_tables import UnknownBoltError, bolt_grade, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import Bolt
from geometry.loads import StatedCouple
from solver.tightening import table_tightening_nm

FRICTION_RANGE: Final = (0.05, 0.30)
_TRIED_BY: Final = "a trial"


@dataclass(frozen=True)
class Trial:
    """What differs from the bracket as it is drawn; None and empty are no difference."""

    couple_nm: float | None = None
    tightening_nm: Mapping[str, float] = field(default_factory=dict)
    """By bolt."""
    face_friction: float | None = None
    """Of all bolts."""
    loosened: frozenset[str] = frozenset()
    out: frozenset[str] = frozenset()

    @property
    def is_none(self) -> bool:
        """Return whether nothing is tried."""
        return self == Trial()

    @property
    def words(self) -> str:
        """Return what is tried in a few words, such as `couple 45 N.m, bolt 3 out`."""
        said = []
        if self.couple_nm is not None:
            said.append(f"couple {self.couple_nm:.3g} N.m")
        said += [f"bolt {name} at {torque:.3g} N.m" for name, torque in self.tightening_nm.items()]
        if self.face_friction is not None:
            said.append(f"friction {self.face_friction:.2g}")
        said += [f"bolt {name} loosened" for name in sorted(self.loosened)]
        said += [f"bolt {name} out" for name in sorted(self.out)]
        return ", ".join(said)

    def toggled(self, name: str, what: str) -> Trial:
        """Return the trial with a bolt `loosened` or `out`, or no longer so; it is never both."""
        loosened, out = self.loosened - {name}, self.out - {name}
        if what == "loosened" and name not in self.loosened:
            loosened |= {name}
        if what == "out" and name not in self.out:
            out |= {name}
        return replace(self, loosened=loosened, out=out)

    def without_unknown(self, bracket: Bracket) -> Trial:
        """Return the trial without what belongs to bolts that are gone."""
        names = {bolt.name for bolt in bracket.bolts}
        torques = {name: torque for name, torque in self.tightening_nm.items() if name in names}
        return replace(self, tightening_nm=torques, loosened=self.loosened & names, out=self.out & names)


def tried(bracket: Bracket, trial: Trial) -> Bracket:
    """Return the bracket with all that is tried but bolts loosened or out, which are told by name."""
    changed = bracket
    if trial.couple_nm is not None:
        # The factor in force stays, whatever the source: only the couple is tried.
        couple = _couple(bracket, trial.couple_nm)
        changed = changed.but(loads=changed.loads.but(couple=couple, factor=bracket.loads.couple_factor))
        if couple.source == bracket.loads.couple.source:
            changed = changed.but(loads=changed.loads.but(factor=bracket.loads.factor))
    if trial.tightening_nm or trial.face_friction is not None:
        changed = changed.but(bolts=tuple(_tightened(bolt, trial) for bolt in changed.bolts))
    return changed


def kept(bracket: Bracket, trial: Trial) -> Bracket:
    """Return the bracket with everything tried: loosened bolts clamp with nothing, bolts out are gone."""
    changed = tried(bracket, trial)
    bolts = [bolt for bolt in changed.bolts if bolt.name not in trial.out]
    return changed.but(
        bolts=tuple(bolt.but(preload_n=(0.0, 0.0)) if bolt.name in trial.loosened else bolt for bolt in bolts)
    )


def most_tightening_nm(bolt: Bolt) -> float:
    """Return the right end of the slider: half as much again as takes the bolt to 90 % of its yield."""
    try:
        usual = table_tightening_nm(bolt_size(bolt.size), bolt_grade(bolt.grade or "8.8"))
    except UnknownBoltError:
        usual = 40.0
    return max(1.5 * usual, bolt.tightening_nm or 0.0)


def most_couple_nm(bracket: Bracket) -> float:
    """Return the right end of the slider: four times the couple, and 100 N.m at least."""
    return max(100.0, 4.0 * (bracket.loads.couple.value_nm or 0.0))


def _couple(bracket: Bracket, couple_nm: float) -> StatedCouple:
    couple = bracket.loads.couple
    by = couple.by if isinstance(couple, StatedCouple) else _TRIED_BY
    return StatedCouple(couple_nm=couple_nm, by=by)


def _tightened(bolt: Bolt, trial: Trial) -> Bolt:
    torque = trial.tightening_nm.get(bolt.name)
    if torque is not None:
        bolt = bolt.but(tightening_nm=torque, preload_n=None)
    return bolt if trial.face_friction is None else bolt.but(face_friction=trial.face_friction)
