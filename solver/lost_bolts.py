"""The bracket with each bolt out in turn: what is then used most, and what comes loose."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geometry.wanted import still_wanted
from solver.bolt_checks import bolt_checks
from solver.evaluation import loaded
from solver.free_motions import free_motions, null_motions
from solver.largest import largest_of
from solver.linkage import linkage_of
from solver.movement_checks import movement_checks
from solver.plate_checks import plate_checks
from solver.results import Check, OneBoltLost
from solver.solved import Solved, with_bolts
from solver.weld_checks import weld_checks


@dataclass(frozen=True)
class UsedCheck:
    """How much of a check's allowable is used, without its band."""

    name: str
    where: str
    used: float


@dataclass(frozen=True)
class LostBolt:
    """The bracket with one bolt out, before anybody knows how sure its checks are."""

    bolt: str
    checks: tuple[UsedCheck, ...]
    """Those that can fail; none where nothing holds what the bolt held."""
    free_motion: str
    """Words of a free motion of the casing that its loss leaves; empty if none."""


def lost_bolts(solved: Solved, couple_nm: float) -> tuple[LostBolt, ...]:
    """Return the bracket with each bolt out in turn."""
    found = []
    for name in solved.bolts:
        still_wanted()
        linkage = linkage_of(solved.bracket, solved.places, out=[name])
        # Friction and bolts have to hold casing and plates still.
        if null_motions(linkage, stuck=True).shape[1]:
            found.append(LostBolt(name, (), "nothing holds what the bolt held"))
            continue
        rest = with_bolts(solved, out=[name], linkage=linkage, lash=False)
        load = loaded(rest.states, rest.cases, couple_nm)
        checks: list[Check] = [
            *plate_checks(rest, load, couple_nm),
            *bolt_checks(rest, load),
            *weld_checks(rest, load),
            *movement_checks(rest, load, 0.0),
        ]
        # Tightening is no different without the bolt: what can fail is looked at.
        used = tuple(UsedCheck(c.name, c.where, c.used) for c in checks if c.kind != "share")
        motions = free_motions(rest.bracket, rest.linkage, rest.plates, rest.cases)
        words = next((m.words for m in motions if m.moves_casing), "")
        found.append(LostBolt(name, used, words))
    return tuple(found)


def one_bolt_lost(lost: Sequence[LostBolt], bands: Mapping[str, float]) -> tuple[OneBoltLost, ...]:
    """Return what is used most without each bolt, as sure as the same check of the whole bracket is.

    A check that the whole bracket has not is taken to be as unsure as any that it has.
    """
    widest = max(bands.values(), default=0.0)
    found = []
    for one in lost:
        if not one.checks:
            found.append(OneBoltLost(one.bolt, "", float("inf"), one.free_motion))
            continue
        worst = largest_of(one.checks, lambda c: c.used * (1.0 + bands.get(c.name, widest)))
        band = bands.get(worst.name, widest)
        found.append(OneBoltLost(one.bolt, f"{worst.name}, {worst.where}", worst.used, one.free_motion, band))
    return tuple(found)
