"""Findings about bolts: what they name, what they are of, and what goes where twice."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator

import numpy as np

from geometry.bolt_tables import UnknownBoltError, bolt_grade, bolt_size, grade_mismatch
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole, Bolt
from geometry.plate import CutOut, Slot
from geometry.survey import Survey


def bolt_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong with the bolts: names, sizes, doubles."""
    if not survey.bracket.bolts:
        yield found("no-bolts", "bracket")
    for bolt in survey.bracket.bolts:
        where = f"bolt {bolt.name}"
        yield from _hole(survey, where, bolt.plate, bolt.hole, bolt)
        yield from _partner(survey, where, bolt)
        yield from _steel(where, bolt)
    yield from _doubles(survey)
    yield from _coinciding(survey)
    yield from _in_line(survey)


def _hole(survey: Survey, where: str, plate_name: str, hole_name: str, bolt: Bolt) -> Iterator[Finding]:
    plate = next((p for p in survey.bracket.plates if p.name == plate_name), None)
    if plate is None:
        yield _missing("bolt-plate-missing", where, plate_name, (p.name for p in survey.bracket.plates))
        return
    opening = next((o for o in plate.openings if o.name == hole_name), None)
    if opening is None:
        yield _missing(
            "bolt-hole-missing", where, hole_name, (o.name for o in plate.openings), plate=plate_name
        )
    elif isinstance(opening, CutOut):
        yield found("bolt-in-cut-out", where, hole=hole_name, plate=plate_name)
    elif isinstance(opening, Slot):
        size = survey.sizes.get(bolt.size)
        medium = opening.width_mm if size is None else size.hole_medium_mm
        yield found("bolt-in-slot", where, hole=hole_name, diameter_mm=medium)


def _partner(survey: Survey, where: str, bolt: Bolt) -> Iterator[Finding]:
    bracket = survey.bracket
    match bolt.joins:
        case AtHole():
            if bolt.joins.plate == bolt.plate:
                yield found("bolt-joins-own-plate", where, plate=bolt.plate)
            else:
                yield from _hole(survey, where, bolt.joins.plate, bolt.joins.opening, bolt)
        case AtBoss():
            bosses = bracket.casing.bosses if bracket.casing is not None else ()
            boss = next((b for b in bosses if b.name == bolt.joins.boss), None)
            if boss is None:
                yield _missing("bolt-boss-missing", where, bolt.joins.boss, (b.name for b in bosses))
            elif _threads_differ(boss.thread, bolt.size):
                yield found("thread-differs", where, size=bolt.size, boss=boss.name, thread=boss.thread)
        case AtAnchor():
            if all(a.name != bolt.joins.anchor for a in bracket.anchors):
                yield _missing(
                    "bolt-anchor-missing", where, bolt.joins.anchor, (a.name for a in bracket.anchors)
                )
        case AtDashBar():
            if bracket.dash_bar is None:
                yield found("bolt-bar-missing", where)


def _missing(code: str, where: str, name: str, known: Iterable[str], plate: str = "") -> Finding:
    names = list(known)
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    listed = ", ".join(names[:12]) + (" ..." if len(names) > 12 else "")
    return found(code, where, name=name, known=listed or "none", near=near[0] if near else "", plate=plate)


def _threads_differ(thread: str, size: str) -> bool:
    try:
        return bolt_size(thread).name != bolt_size(size).name
    except UnknownBoltError:
        return False  # told where the unknown size stands


def _steel(where: str, bolt: Bolt) -> Iterator[Finding]:
    try:
        size = bolt_size(bolt.size)
    except UnknownBoltError as error:
        yield found("bolt-size-unknown", where, reason=str(error))
        size = None
    if bolt.grade is None:
        yield found("blank-grade", where)
    else:
        try:
            grade = bolt_grade(bolt.grade)
        except UnknownBoltError as error:
            yield found("grade-unknown", where, reason=str(error))
        else:
            if size is not None and (words := grade_mismatch(size, grade)):
                yield found("grade-mismatch", where, reason=words)
            if grade.name == "12.9":
                yield found("grade-beyond-rules", where, grade=grade.name)
    if bolt.tightening_nm is None and bolt.preload_n is None:
        yield found("blank-preload", where)
    if bolt.face_friction is None:
        yield found("blank-friction", where)


def _doubles(survey: Survey) -> Iterator[Finding]:
    for (plate, hole), bolts in survey.bolts_in_holes().items():
        if len(bolts) > 1:
            yield found("hole-used-twice", f"plate {plate}, hole {hole}", bolts=" and ".join(bolts))
    yield from _unused(survey)


def _unused(survey: Survey) -> Iterator[Finding]:
    """Tell bosses that take two bolts, and bosses and anchors that take none."""
    into: dict[str, list[str]] = {}
    bracket = survey.bracket
    joined = [*(bolt.joins for bolt in bracket.bolts), *(weld.joins for weld in bracket.welds)]
    onto = {joins.anchor for joins in joined if isinstance(joins, AtAnchor)}
    for bolt in survey.bracket.bolts:
        if isinstance(bolt.joins, AtBoss):
            into.setdefault(bolt.joins.boss, []).append(bolt.name)
    for boss, bolts in into.items():
        if len(bolts) > 1:
            yield found("boss-used-twice", f"boss {boss}", bolts=" and ".join(bolts))
    casing = survey.bracket.casing
    for there in () if casing is None else casing.bosses:
        if there.name not in into:
            yield found("boss-unused", f"boss {there.name}")
    for anchor in survey.bracket.anchors:
        if anchor.name not in onto:
            yield found("anchor-unused", f"anchor {anchor.name}")


def _coinciding(survey: Survey) -> Iterator[Finding]:
    """Tell bolts whose shanks would stand within each other; two in one hole are told by the hole.

    Looks in the flat as well: a plate whose holes run into each other cannot be placed in space.
    """
    told: set[tuple[str, str]] = set()
    for crowd in (_in_space(survey), *_in_flat(survey)):
        standing = list({one[1]: one for one in crowd}.values())  # two in one hole are told by the hole
        if len(standing) < 2:
            continue
        at = np.array([place for _, _, place in standing])
        widest = max(survey.sizes[bolt.size].diameter_mm for bolt, _, _ in standing)
        # half a second to import, which nobody who only draws has to wait for
        from scipy.spatial import cKDTree

        for i, j in sorted(cKDTree(at).query_pairs(widest)):
            (a, _, _), (b, _, _) = standing[i], standing[j]
            apart = float(np.linalg.norm(at[i] - at[j]))
            limit = (survey.sizes[a.size].diameter_mm + survey.sizes[b.size].diameter_mm) / 2.0
            if a.name == b.name or (a.name, b.name) in told or apart >= limit:
                continue
            told.add((a.name, b.name))
            yield found("bolts-coincide", f"bolt {b.name}", other=a.name, apart_mm=apart)


_Standing = list[tuple[Bolt, tuple[str, str], tuple[float, ...]]]
"""A bolt, the plate and hole it goes through, and where that is."""


def _in_space(survey: Survey) -> _Standing:
    return [(survey.bolts[p.bolt], (p.plate, p.hole), tuple(p.mating_mm.tolist())) for p in survey.places]


def _in_flat(survey: Survey) -> list[_Standing]:
    """Return for each plate the bolts through its holes, as the flat pattern has them."""
    through = survey.bolts_in_holes()
    return [
        [
            (survey.bolts[name], (plate.name, opening.name), opening.centre_mm)
            for opening in plate.openings
            if not isinstance(opening, CutOut)
            for name in through.get((plate.name, opening.name), ())
            if survey.bolts[name].size in survey.sizes
        ]
        for plate in survey.bracket.plates
    ]


def _in_line(survey: Survey) -> Iterator[Finding]:
    """Tell bolts that all stand nearer than a bolt's diameter to one line."""
    heads = survey.heads
    if len(heads) < 2 or survey.bracket.welds:  # a weld holds against turning about any line
        return
    at = np.array([place.mating_mm for place in heads])
    arms = at - at.mean(axis=0)
    _, _, ways = np.linalg.svd(arms, full_matrices=False)
    away = arms - np.outer(arms @ ways[0], ways[0])
    if float(np.linalg.norm(away, axis=1).max()) < max(place.bolt_diameter_mm for place in heads):
        yield found("bolts-in-line", "bracket", count=len(heads))
