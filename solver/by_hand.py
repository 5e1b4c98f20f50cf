"""Hand figures: what a closed form says of the same demand, so that a reader can judge the machine's."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from geometry.placing import BoltPlace
from solver.bolt_group import elastic_group
from solver.load_cases import NMM_PER_NM
from solver.results import Check
from solver.rigid import axes_along
from solver.solved import Solved

APART = 0.3
"""Figures further apart than this are explained."""


def with_hand_figures(solved: Solved, checks: Sequence[Check], couple_nm: float) -> tuple[Check, ...]:
    """Return the checks, those with a closed form carrying its figure and how it was reached."""
    return tuple(_with(solved, check, couple_nm) for check in checks)


def _with(solved: Solved, check: Check, couple_nm: float) -> Check:
    if check.name in ("bolt shear", "bearing"):
        return _bolt_group(solved, check, couple_nm)
    if check.name == "dash bar":
        return _dash_bar(solved, check, couple_nm)
    return check


def _bolt_group(solved: Solved, check: Check, couple_nm: float) -> Check:
    """Couple on the group of bolts that share the governing bolt's plate and partner.

    Only if they are all parallel to the shaft.
    """
    name = check.where.removeprefix("bolt ")
    place = next((p for p in solved.places if p.bolt == name and p.side == "head"), None)
    if place is None:
        return check
    group = [
        p for p in solved.places if p.side == "head" and p.plate == place.plate and p.partner == place.partner
    ]
    if len(group) < 2 or any(abs(float(p.axis[2])) < 0.999 for p in group) or _shared(solved, place):
        return check
    at = np.array([p.mating_mm[:2] for p in group])
    couple = couple_nm * solved.bracket.loads.couple_factor * NMM_PER_NM
    forces = np.linalg.norm(elastic_group(at, couple_nmm=couple).forces_n, axis=1)
    figure = float(forces[[p.bolt for p in group].index(name)])
    words = f"couple alone on {len(group)} bolts, M r / sum r2"
    why = (
        "by hand the couple acts alone on a rigid plate; here weight, pulls and the plate's own give"
        " are in it"
    )
    return replace(check, by_hand=figure, by_hand_words=words, note=_explained(check, figure, why))


def _shared(solved: Solved, place: BoltPlace) -> bool:
    """Return whether another plate takes part of the couple between the same partners."""
    return any(
        p.partner == place.partner and p.plate != place.plate for p in solved.places if p.side == "head"
    )


def _dash_bar(solved: Solved, check: Check, couple_nm: float) -> Check:
    """Bending of the bar where its bolts put the couple in.

    M c / I with the larger share of M on one side of a simple span.
    """
    bar = solved.bracket.dash_bar
    model = solved.states[0].structure.bar
    if bar is None or model is None:
        return check
    stations = [p.station_mm for p in solved.places if p.partner == "dash bar" and p.station_mm is not None]
    if not stations:
        return check
    along = model.axes[:, 2]
    across = abs(float(axes_along(along)[2, 2]))
    length = float(model.stations_mm[-1])
    middle = float(np.mean(stations))
    moment = (
        couple_nm
        * solved.bracket.loads.couple_factor
        * NMM_PER_NM
        * float(np.sqrt(max(1.0 - across**2, 0.0)))
    )
    if any(end.kind == "free" for end in bar.ends):
        share, words = 1.0, "couple alone on a cantilever, M c / I"
    else:
        share, words = max(middle, length - middle) / length, "couple alone on a simple span, M a / L c / I"
    section = model.section
    modulus = min(
        section.second_moment_1_mm4 / section.outer_2_mm, section.second_moment_2_mm4 / section.outer_1_mm
    )
    figure = moment * share / modulus
    why = (
        "by hand the couple acts alone on a simple span; here the ends hold, the bolts spread it, and weight"
        " and pulls are in it"
    )
    return replace(check, by_hand=figure, by_hand_words=words, note=_explained(check, figure, why))


def _explained(check: Check, figure: float, why: str) -> str:
    if figure > 0.0 and abs(check.demand - figure) <= APART * figure:
        return check.note
    return f"{check.note}; {why}" if check.note else why
