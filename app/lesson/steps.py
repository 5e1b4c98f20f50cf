"""The steps of a lesson: predict first, then reveal. Every answer is worked out from the open bracket."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from app.compare.layout import sawn_twin
from app.editing.refused import EditRefused
from app.lesson.figures import figures_of
from app.lesson.loosened import casing_motion, motions_of
from app.lesson.step import Step
from app.lesson.turned import CHOICES, Turned, answer_of, question
from app.wording.figures import figure, percent, plain
from app.wording.plate_name import plate_called
from app.wording.verdict_words import couple_words, verdict_in_ink, verdict_words
from geometry.bracket import Bracket
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap
from solver.load_cases import RIM_SIDES
from solver.results import CaseResult, FrictionShare, Results

_PULLS: Final = {
    "right": "a pull to the right at the wheel",
    "left": "a pull to the left at the wheel",
    "up": "a pull upward at the wheel",
    "down": "a pull downward at the wheel",
    **{f"out at {side}": f"a pull toward the driver at the {side} of the wheel's rim" for side in RIM_SIDES},
    **{f"in at {side}": f"a push from the driver at the {side} of the wheel's rim" for side in RIM_SIDES},
}
"""By the words at the end of the load case's name."""
NOT_WITHOUT_IT: Final = (
    "Not looked at without it: buckling, reversals, natural frequency, fit, movement with bolts slipped."
)
"""What `solver.lost_bolts` leaves out; tightening is no different without the bolt."""
ALIKE: Final = 0.15
"""Movements that differ by less than this share are told as about the same."""


def steps_of(bracket: Bracket, results: Results | None, turned: Turned | None = None) -> tuple[Step, ...]:
    """Return the steps this bracket has answers for; those that need results only with results of its own.

    With a turned bracket, the question of the plate's way is asked of the two of them.
    """
    own = results if results is not None and results.hash == bracket.input_hash() else None
    found = [*_force(bracket, own), *_grip(bracket), *_way(bracket, own, turned)]
    if own is not None:
        found += [*_friction(own), *_side_load(own), *_one_lost(own)]
    found += _saw(bracket)
    if own is not None:
        found += _verdict(own)
    return tuple(found)


def _force(bracket: Bracket, own: Results | None) -> Iterator[Step]:
    couple = bracket.loads.couple.value_nm
    figures = None if couple is None else figures_of(bracket, couple)
    if figures is None or figures.arm is None or figures.person_kg is None or figures.force_n is None:
        return
    right = figures.person_kg
    shares, answer = _shares(bracket, 0)
    rim = "" if figures.rim_n is None else f" By hand it takes {figure(figures.rim_n)} N at the wheel's rim."
    yield Step(
        "force",
        f"The casing turns back with {couple_words(figures.felt_nm, 'mm')}. How heavy a person, standing"
        f" {figures.arm.length_mm:.0f} mm from the shaft, does the same?",
        tuple(f"{figure(right * share)} kg" for share in shares),
        answer,
        f"{figure(right)} kg: {couple_words(figures.felt_nm, 'mm')} / {figures.arm.length_mm:.0f} mm ="
        f" {figure(figures.force_n)} N.{rim}",
        "couple",
        case=_couple_case(own),
    )


def _grip(bracket: Bracket) -> Iterator[Step]:
    if bracket.casing is None or not bracket.bolts:
        return
    motions = motions_of(bracket)
    moving = casing_motion(motions)
    answer = 2 if moving is not None and moving.driven_by else 1 if moving is not None else 0
    if moving is None:
        told = "Its plates lock one another: no bolt has to grip."
    else:
        told = f"{_sentence(moving.words)}."
        told += " The couple or a pull drives it." if moving.driven_by else " No load case drives it."
    yield Step(
        "grip",
        "Every bolt loses its grip and is a mere pin. What can the casing do?",
        ("nothing: it is held", "move, but no load moves it", "move under load"),
        answer,
        told,
        "free motion",
    )


def _way(bracket: Bracket, own: Results | None, turned: Turned | None) -> Iterator[Step]:
    """Yield the question of the plate's way: of two brackets, or of a strip where there is but one."""
    if own is None or turned is None or turned.bracket is None or turned.trouble:
        for step in _plate_way(bracket):
            yield replace(step, note="" if turned is None else turned.trouble, case=_couple_case(own))
        return
    known = (-1, "", "") if turned.results is None else answer_of(own, turned.results)
    if known is None:
        yield from _plate_way(bracket)
        return
    answer, reveal, note = known
    yield Step("plate way", question(), CHOICES, answer, reveal, "turned", bracket=turned.bracket, note=note)


def _plate_way(bracket: Bracket) -> Iterator[Step]:
    for plate in bracket.plates[:1]:
        try:
            normal = np.asarray(FoldMap(plate).axes[:, 2])
            pattern = flat_pattern(plate).polygon
        except ShapeError:
            return
        square = abs(float(normal[2])) > np.cos(np.radians(45.0))
        sides = np.linalg.norm(
            np.diff(shapely.get_coordinates(pattern.minimum_rotated_rectangle), axis=0), axis=1
        )
        width = float(sides[:2].min())
        ratio = (width / plate.thickness_mm) ** 2
        shares, answer = _shares(bracket, 1)
        way = (
            "square to the shaft, so the couple works edgewise"
            if square
            else "along the shaft, so the couple works flatwise too"
        )
        called = plate_called(plain(plate.name))
        yield Step(
            "plate way",
            f"{called[:1].upper()}{called[1:]} is {width:.0f} mm wide and {plate.thickness_mm:g} mm thick."
            " How many times stiffer is a strip of it edgewise than flatwise?",
            tuple(f"about {figure(ratio * share)} times" for share in shares),
            answer,
            f"({width:.0f} / {plate.thickness_mm:g})\u00b2 = {figure(ratio)} times. This one stands {way}.",
            "couple",
        )


def _friction(results: Results) -> Iterator[Step]:
    share = results.friction_share
    if share is None:
        return
    answer = 0 if share.share < 0.1 else 1 if share.share <= 0.5 else 2
    yield Step(
        "friction",
        "How much of the hold against the couple is friction under the bolt heads?",
        ("less than a tenth", "a tenth to a half", "more than half"),
        answer,
        f"{_share_words(share)}: {figure(share.stuck_nm_per_deg)} N.m/deg while bolts grip,"
        f" {figure(share.slipped_nm_per_deg)} once all have slipped.",
        "free motion",
    )


def _share_words(share: FrictionShare) -> str:
    if share.slipped_nm_per_deg == 0.0:
        return "All of it"
    return "Hardly any" if share.share < 0.005 else percent(share.share)


def _side_load(results: Results) -> Iterator[Step]:
    held = [(i, case) for i, case in enumerate(results.cases) if case.state == "stuck"]
    couple = _most([(i, c) for i, c in held if c.name in ("couple +", "couple -")])
    pull = _most([(i, c) for i, c in held if ", pull " in c.name])
    if couple is None or pull is None:
        return
    alone, pulled = couple[1].movement_mm, pull[1].movement_mm
    if max(alone, pulled) <= 0.0:
        return
    alike = abs(pulled - alone) <= ALIKE * max(alone, pulled)
    way = _PULLS.get(pull[1].name.partition(", pull ")[2], "a pull at the wheel")
    yield Step(
        "side load",
        "Which moves it more while bolts grip: the couple alone, or with a pull at the wheel?",
        ("the couple alone", "about the same", "with a pull at the wheel"),
        1 if alike else 2 if pulled > alone else 0,
        f"{figure(alone)} mm by the couple, {figure(pulled)} mm with {way}, the factor on the"
        " couple and weight included.",
        "pull",
        case=pull[0],
        note=_side_words(results),
    )


def _side_words(results: Results) -> str:
    """Return whether couple and pulls drive the free motions, in a sentence."""
    moving = casing_motion(results.free_motions)
    if moving is None:
        return ""
    by_couple = any(name in ("couple +", "couple -") for name in moving.driven_by)
    by_pull = any(", pull " in name for name in moving.driven_by)
    if by_pull and not by_couple:
        return "A pure couple leaves the free motion alone; a pull folds the linkage."
    return "Both drive the free motion once bolts slip." if by_couple and by_pull else ""


def _one_lost(results: Results) -> Iterator[Step]:
    if not results.one_bolt_lost:
        return
    worst = max(results.one_bolt_lost, key=lambda lost: (bool(lost.free_motion), lost.used_upper))
    # What its band leaves open is not asked.
    if not worst.free_motion and worst.worst_used <= 1.0 < worst.used_upper:
        return
    answer = 2 if worst.free_motion else 1 if worst.worst_used > 1.0 else 0
    used = f"{plain(worst.worst_check)}, with its band at {percent(worst.used_upper)}"
    told = f"{_sentence(worst.free_motion)}." if worst.free_motion else f"The worst check is then {used}."
    yield Step(
        "bolt lost",
        f"Bolt {plain(worst.bolt)} falls out. What then?",
        ("no check goes past its limit", "a check goes past its limit", "something comes loose"),
        answer,
        told,
        "loosened bolt",
        bolt=worst.bolt,
        note=NOT_WITHOUT_IT if answer == 0 else "",
    )


def _saw(bracket: Bracket) -> Iterator[Step]:
    if bracket.casing is None or not bracket.bolts:
        return
    try:
        twin = sawn_twin(bracket)
    except EditRefused:
        return
    before, after = casing_motion(motions_of(bracket)), casing_motion(motions_of(twin))
    answer = 0 if after is None else 2 if before is None else 1
    told = "It stays held by its shape." if after is None else f"{_sentence(after.words)}."
    yield Step(
        "saw",
        "Saw the plate in two, bolts staying with their piece; then all bolts lose their grip. What happens?",
        ("the casing stays held", "it moves, as it did before", "it moves, and did not before"),
        answer,
        told,
        "sawn",
        bracket=twin,
    )


def _verdict(results: Results) -> Iterator[Step]:
    words = ("pass", "marginal", "fail", "no verdict")
    verdict = verdict_in_ink(results)
    yield Step(
        "verdict",
        "All together: what is the verdict?",
        words,
        words.index(verdict),
        f"{verdict.upper()} {plain(verdict_words(results))}.",
        "verdict",
    )


def _shares(bracket: Bracket, number: int) -> tuple[tuple[float, ...], int]:
    """Return what share of the right figure each choice is, rising, and the place of the right one.

    The place hangs on the bracket, so that it cannot be learned.
    """
    answer = (int(bracket.input_hash()[:8], 16) + number) % 3
    return tuple(float(3 ** (k - answer)) for k in range(3)), answer


def _couple_case(own: Results | None) -> int | None:
    """Return the number of the couple alone while bolts grip; None if it was not solved."""
    cases = () if own is None else own.cases
    return next((i for i, c in enumerate(cases) if c.state == "stuck" and c.name == "couple +"), None)


def _most(cases: Sequence[tuple[int, CaseResult]]) -> tuple[int, CaseResult] | None:
    return max(cases, key=lambda case: case[1].movement_mm, default=None)


def _sentence(words: str) -> str:
    words = plain(words)
    return words[:1].upper() + words[1:]
