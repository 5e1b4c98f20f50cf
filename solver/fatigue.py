"""Reversing fatigue: what the couple's turning to and fro does to plates and bolts over the life of the car.

Only the couple reverses; weight and preload are what it swings about. Places of a plate swing in the
directions of the couple's own principal stresses there. At bolt holes the nominal stress of the net section
counts, never a peak. Where a connection slips no reversal is allowed at all: the check of slip fails it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.bolt_tables import BoltSize
from geometry.fixing import Spacer
from geometry.footprint import JUDGED_BEYOND
from geometry.loads import Fatigue
from geometry.materials import material
from geometry.plate import CutBy, Plate
from solver.bar_welds import of_dash_bar
from solver.beam import ring_section
from solver.connections import ConnectionForces, forces_from_local, tension_n
from solver.fatigue_curve import GAMMA_MF, SOURCE, cycles_borne, damage, effective_range, range_borne
from solver.largest import ALIKE, first_of_largest, settled
from solver.load_cases import LoadCase
from solver.results import Check
from solver.rigid import Floats
from solver.solved import Solved
from solver.stress import principal_stresses
from solver.stress_survey import CORNER_RISE
from solver.structure_assembly import STEEL_MODULUS_MPA
from solver.swinging import KEPT_PULLED, SurveyedPlaces, Swinging
from solver.weld_fatigue import BESIDE, TOE, of_weld_segments, rows_beside

EDGE: Final = 125.0
"""Machine gas cut edges with shallow drag lines, EN 1993-1-9 table 8.1 (from memory, to be verified); the
other ways of cutting a clean edge are taken as no better."""
ROUGH_EDGE: Final = 100.0
"""Sheared, punched or unknown edges, and plates with folds: no published class, taken lower (common
practice, no source)."""
NET_SECTION: Final = 90.0
"""A plate with holes, nominal stress on the net section, EN 1993-1-9 table 8.1 (from memory, to be
verified)."""
THREAD: Final = 50.0
"""A bolt in tension, on its stress area, EN 1993-1-9 table 8.1 (from memory, to be verified)."""
FATIGUE_OF_SHEET: Final = "fatigue, "
"""What the name of a plate's check away from holes, corners and welds begins with."""
_CLEAN: Final[frozenset[CutBy]] = frozenset({"laser", "plasma", "water jet", "saw", "mill"})
_ONTO_BOLT: Final = 0.2
"""Share of a pull that comes onto a preloaded bolt: EN 1993-1-8 3.9.2 leaves 0.8 to the faces. Sheets lie
flat on what they are bolted to there; a spacer may leave less, see `_through_spacer`."""
_KEPT: Final = 60
"""Places of a plate that swing most, by the largest principal stress of the couple, which are followed."""
_FAINT_NM: Final = 1e-9


def fatigue_checks(solved: Solved, couple_nm: float, listed_times: float = 1.0) -> list[Check]:
    """Return the worst place of every kind at a couple as measured; none for metals without a curve.

    Where a spectrum lists couples of its own they are taken times `listed_times`.
    """
    turns = _turns(solved.bracket.loads.fatigue, couple_nm, listed_times)
    found: dict[str, Check] = {}
    for swinging in solved.swinging:
        check = _check(swinging, turns)
        if check is not None and (check.name not in found or check.used > found[check.name].used):
            found[check.name] = check
    return list(found.values())


def edge_category(plate: Plate) -> float:
    """Return the category of a plate's edges and surface."""
    return ROUGH_EDGE if plate.folds or plate.cut_by not in _CLEAN else EDGE


def swinging_of(solved: Solved) -> tuple[Swinging, ...]:
    """Return everything that swings with the couple while every connection is stuck."""
    return tuple(
        swinging
        for state in range(len(solved.states))
        if solved.states[state].taken == "stuck"
        for case in _reversing(solved.cases)
        for swinging in _of_case(solved, state, case)
    )


def _reversing(cases: Sequence[LoadCase]) -> list[LoadCase]:
    return [c for c in cases if c.kind in ("couple", "shaft joint") and c.name.startswith("couple +")]


def _of_case(solved: Solved, number: int, case: LoadCase) -> Iterator[Swinging]:
    state = solved.states[number]
    per_nm = case.per_couple / solved.bracket.loads.couple_factor
    loads = np.column_stack([per_nm, case.rest])
    words = f"{case.words}, to and fro; connections stuck"
    for index, plate in enumerate(solved.plates):
        if plate.metal.kind != "steel":
            continue
        amounts = state.amounts[index] @ loads
        yield from _of_plate(solved, index, amounts, words)
        yield from _of_sections(solved, index, amounts, words)
    yield from of_weld_segments(state.structure, [amounts @ loads for amounts in state.amounts], words)
    yield from of_dash_bar(solved.bracket, state.structure, state.response.bar() @ loads[:, :1], words)
    local = state.local @ loads
    forces = forces_from_local(state.structure, local)
    # Half a turn later what pressed pulls: the way the couple happens to be counted first decides nothing.
    ways = (forces, forces_from_local(state.structure, -local))
    if forces.bolts:
        names = tuple(f"bolt {name}" for name in forces.bolts)
        spaced = [connection.spacer_mm > 0.0 for connection in state.structure.connections]
        swing = np.maximum(*(_bolts_mpa(way, spaced, solved) for way in ways))
        # preload keeps it pulled all the while, so no part of the swing compresses
        yield Swinging("fatigue of bolts", THREAD, swing, np.full(len(swing), KEPT_PULLED), names, words)


def _bolts_mpa(forces: ConnectionForces, spaced: Sequence[bool], solved: Solved) -> Floats:
    """Return the stress in every bolt by 1 N.m, whose forces stand in the first column."""
    areas = np.array([solved.bolts[name].size.stress_area_mm2 for name in forces.bolts])
    found = np.asarray(_ONTO_BOLT * tension_n(forces, solved.bolts)[:, 0] / areas)
    for row, name in enumerate(forces.bolts):
        bolt = solved.bolts[name]
        if spaced[row] and bolt.bolt.spacer is not None:
            modulus = material(bolt.bolt.spacer.material, solved.bracket.materials).elastic_modulus_mpa
            pull_n, tilt_nmm = float(forces.pull_n[row, 0]), float(forces.tilt_nmm[row, 0])
            through = _through_spacer(bolt.size, bolt.bolt.spacer, modulus, pull_n, tilt_nmm)
            found[row] = max(found[row], through)
    return found


def _through_spacer(
    size: BoltSize, spacer: Spacer, modulus_mpa: float, pull_n: float, tilt_nmm: float
) -> float:
    """Return the stress in MPa of a bolt whose spacer, of that modulus, takes a pull and a moment with it.

    Bolt and tube lie side by side: they stretch and bend alike as long as both ends stay closed, and each
    takes of pull and moment what it is stiff (elementary mechanics, own calculation). The bolt's whole shank
    takes its share of the pull, and its thread bears it; its thread's core bends.
    """
    tube = ring_section(spacer.outer_mm, spacer.inner_mm)
    core_mm = math.sqrt(4.0 * size.stress_area_mm2 / math.pi)
    core, shank = ring_section(core_mm, 0.0), ring_section(size.diameter_mm, 0.0)
    softer = modulus_mpa / STEEL_MODULUS_MPA
    share = shank.area_mm2 / (shank.area_mm2 + softer * tube.area_mm2)
    pulled = share * max(pull_n, 0.0) / size.stress_area_mm2
    bent = tilt_nmm * core_mm / 2.0 / (core.second_moment_1_mm4 + softer * tube.second_moment_1_mm4)
    return pulled + bent


def _of_plate(solved: Solved, index: int, amounts: Floats, words: str) -> Iterator[Swinging]:
    survey = solved.surveys[index]
    if not len(survey.nodes):
        return
    stress = (survey.modes @ amounts).reshape(-1, 6, 2)
    worst = most_swung(stress[:, :, 0])
    plate = survey.plate.plate
    per_nm, mean = _swings(stress[worst])
    where = SurveyedPlaces(survey, worst, 3)
    yield Swinging(f"{FATIGUE_OF_SHEET}{plate.name}", edge_category(plate), per_nm, mean, where, words)
    beside = rows_beside(survey, (BESIDE + JUDGED_BEYOND) * plate.thickness_mm)
    if len(beside):
        per_nm, mean = _swings(stress[beside])
        where = SurveyedPlaces(survey, beside, 3)
        # Welding leaves tension there: all of the swing counts.
        pulled = np.full(len(mean), KEPT_PULLED)
        yield Swinging(f"fatigue beside welds, {plate.name}", TOE, per_nm, pulled, where, words)
    for corner in survey.corners:
        if len(corner.rows):
            per_nm, mean = _swings(CORNER_RISE * stress[corner.rows])
            x, y = corner.flat_mm
            at = (f"{plate.name}, sharp corner at ({x:.0f}, {y:.0f})",) * len(per_nm)
            name = f"fatigue at sharp corners, {plate.name}"
            yield Swinging(name, edge_category(plate), per_nm, mean, at, words)


def most_swung(stress: Floats) -> NDArray[np.int64]:
    """Return the places, at most _KEPT, where stresses (v, 6) have the largest principal stress.

    Not the largest component: which that is hangs on how the plate stands in space.
    """
    # The square of what a tensor is in all is its principal stresses' squares added up: no larger than three
    # times the largest. So few places need be asked for theirs.
    whole = np.sqrt((stress[:, :3] ** 2).sum(axis=1) + 2.0 * (stress[:, 3:] ** 2).sum(axis=1))
    least = np.sort(whole)[-min(_KEPT, len(whole))] / np.sqrt(3.0)
    asked = np.flatnonzero(whole >= (1.0 - ALIKE) * least)
    largest = np.abs(principal_stresses(stress[asked])).max(axis=1)
    return asked[np.argsort(-settled(largest), kind="stable")[:_KEPT]]


def _of_sections(solved: Solved, index: int, amounts: Floats, words: str) -> Iterator[Swinging]:
    sections = [s for s in solved.sections if s.plate == index and s.bolt not in solved.out]
    if not sections:
        return
    per_nm, mean, where = [], [], []
    for section in sections:
        parts = section.parts[:3] @ amounts
        for across, through in product((1.0, -1.0), repeat=2):
            sides = np.array([1.0, across, through]) @ parts
            per_nm.append(sides[0])
            mean.append(sides[1])
            where.append(section.words)
    name = f"fatigue at holes, {solved.bracket.plates[index].name}"
    yield Swinging(name, NET_SECTION, np.array(per_nm), np.array(mean), tuple(where), words)


def _swings(stress: Floats) -> tuple[Floats, Floats]:
    """Return what stress (v, 6, 2) for 1 N.m and at rest makes of each place's three ways to swing (3 v,)."""
    tensors = _tensors(stress)
    per_nm, ways = np.linalg.eigh(tensors[..., 0])
    mean = np.einsum("vip,vij,vjp->vp", ways, tensors[..., 1], ways)
    return per_nm.ravel(), mean.ravel()


def _tensors(stress: Floats) -> Floats:
    """Return the (v, 3, 3, columns) tensors of stress (v, 6, columns) as xx, yy, zz, yz, xz, xy."""
    order = np.array([[0, 5, 4], [5, 1, 3], [4, 3, 2]])
    return np.asarray(stress[:, order])


def _turns(fatigue: Fatigue, couple_nm: float, listed_times: float) -> tuple[Floats, Floats]:
    """Return the couples and how often each reverses."""
    if not fatigue.spectrum:
        return np.array([couple_nm]), np.array([float(fatigue.full_cycles)])
    return (
        np.array([listed_times * turn.torque_nm for turn in fatigue.spectrum]),
        np.array([float(turn.count) for turn in fatigue.spectrum]),
    )


def _check(swinging: Swinging, turns: tuple[Floats, Floats]) -> Check | None:
    couples, counts = turns
    if couples.max() < _FAINT_NM:
        return None
    reach = np.abs(swinging.per_nm)[:, None] * couples
    ranges = effective_range(swinging.mean[:, None] - reach, swinging.mean[:, None] + reach)
    category = swinging.category_mpa / GAMMA_MF
    hardest = _hardest(ranges)
    rises = [_rise(category, ranges[row], counts, shear=swinging.shear) for row in hardest]
    row = hardest[first_of_largest(-np.array(rises))]
    mine = ranges[row]
    demand = float(mine.max())
    allowable = (
        demand * min(rises) if demand > 0.0 else range_borne(category, counts.sum(), shear=swinging.shear)
    )
    return Check(
        swinging.name,
        demand,
        allowable,
        "MPa",
        0.0,
        f"{SOURCE}, category {swinging.category_mpa:g}, gamma_Mf {GAMMA_MF:g}",
        swinging.where[row],
        swinging.case,
        note=_life(category, mine, counts, shear=swinging.shear),
    )


def _hardest(ranges: Floats) -> list[int]:
    """Return the places of ranges (places, couples) that no other place matches at every couple.

    What swings most at the largest couple need not at the others: of a swing about a pull nothing compresses
    at a small one.
    """
    if ranges.shape[1] == 1:
        return [first_of_largest(ranges[:, 0])]
    order = np.lexsort(-ranges[:, ::-1].T)
    kept: list[int] = []
    for row in order.tolist():
        if not any((ranges[known] >= ranges[row]).all() for known in kept):
            kept.append(row)
    return kept


def _rise(category: float, ranges: Floats, counts: Floats, *, shear: bool) -> float:
    """Return what all ranges can be multiplied by until the damage sum is 1; inf where nothing swings."""
    if not ranges.max() > 0.0:
        return math.inf
    low, high = 1e-6, range_borne(category, 1.0, shear=shear) / float(ranges.max())
    if len(ranges) == 1:
        return range_borne(category, float(counts[0]), shear=shear) / float(ranges[0])
    for _ in range(60):
        middle = math.sqrt(low * high)
        if damage(category, middle * ranges, counts, shear=shear) > 1.0:
            high = middle
        else:
            low = middle
    return low


def _life(category: float, ranges: Floats, counts: Floats, *, shear: bool) -> str:
    """Return how long it lasts, in words."""
    if len(ranges) == 1:
        cycles = float(cycles_borne(category, ranges[0], shear=shear))
        told = "no end by the curve" if math.isinf(cycles) else f"{cycles:.2g} full reversals"
        return f"life: {told}, {_grouped(counts[0])} are asked"
    spent = damage(category, ranges, counts, shear=shear)
    return f"life: {spent:.2g} of it is spent by the spectrum, {_grouped(counts.sum())} reversals in all"


def _grouped(count: float) -> str:
    return f"{count:,.0f}".replace(",", " ")
