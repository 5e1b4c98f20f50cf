"""What of a bracket's file is looser than the default or unusual, as sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from geometry.bolt_tables import STAINLESS_NORM, UnknownBoltError, bolt_grade
from geometry.bracket import Bracket
from geometry.digits import percent_apart
from geometry.fixing import USUAL_FACE_FRICTION, USUAL_THREAD_FRICTION, WRENCH_SCATTER, Bolt
from geometry.loads import Fatigue, Loads
from geometry.nuts import most_prevailing_nm, prevailing_nm
from geometry.sheet_tolerance import usual_tolerance_of

MOST_FACE_FRICTION: Final = 0.2
"""Of faces of bare steel, usually USUAL_FACE_FRICTION to this."""
STAINLESS_FRICTION: Final = 0.2
"""In ungreased stainless threads, at least: they gall (common practice, no source)."""

_LIMIT_WORDS: Final = {
    "movement_mm": "limit of movement under the couple, mm",
    "turn_deg": "limit of turn and lean, deg",
    "pull_movement_mm": "limit of movement with a pull, mm",
    "yield_factor": "yield over allowable stress",
    "slip_factor": "factor on slip",
    "friction_share": "limit of friction share",
    "marginal_used": "share from which a check is marginal",
}


def loosened(bracket: Bracket) -> list[str]:
    """Return what is looser than usual about limits and inputs, as sentences."""
    found = []
    for name, (value, usual) in bracket.limits.looser().items():
        found.append(f"{_LIMIT_WORDS[name]} is {value:g}, looser than the usual {usual:g}")
    return [*found, *loose_inputs(bracket)]


def loose_inputs(bracket: Bracket) -> list[str]:
    """Return what is lenient about everything but the limits, as sentences."""
    return [*loose_loads(bracket.loads), *loose_pieces(bracket), *_loose_bolts(bracket.bolts)]


def loose_pieces(bracket: Bracket) -> list[str]:
    """Return what is lenient about sheets, welds and how the pieces fit, as sentences."""
    looser = {} if bracket.fit_up is None else bracket.fit_up.looser()
    return [
        *_loose_sheets(bracket),
        *(f"weld {weld.name} is said to be full at its ends" for weld in bracket.welds if weld.full_at_ends),
        *(
            f"fit of the pieces, {words}: {value:g}, more lenient than the usual {usual:g}"
            for words, (value, usual) in looser.items()
        ),
    ]


def _loose_bolts(bolts: Sequence[Bolt]) -> list[str]:
    """Return what is lenient about bolts, that of several alike in one sentence."""
    alike: dict[str, list[str]] = {}
    for bolt in bolts:
        for words in _loose_bolt(bolt):
            alike.setdefault(words, []).append(bolt.name)
    return [
        words.format(f"{'bolt' if len(names) == 1 else 'bolts'} {', '.join(names)}")
        for words, names in alike.items()
    ]


def _stated_scatter(bolt: Bolt) -> float | None:
    """Return by what share of its middle a stated preload may be off; None where none is stated."""
    if bolt.preload_n is None or not bolt.preload_n[1] > 0.0:
        return None
    low, high = bolt.preload_n
    return (high - low) / (high + low)


def _loose_bolt(bolt: Bolt) -> Iterator[str]:
    """Yield what is lenient about one bolt, its name left open."""
    by_torque = bolt.preload_n is None and bolt.tightening_nm is not None
    if bolt.face_friction is not None and bolt.face_friction > MOST_FACE_FRICTION:
        yield (
            f"friction {bolt.face_friction:g} on the faces of {{}} is higher than bare steel's usual"
            f" {USUAL_FACE_FRICTION:g} to {MOST_FACE_FRICTION:g}"
        )
    if by_torque and bolt.thread_friction < USUAL_THREAD_FRICTION:
        yield (
            f"friction {bolt.thread_friction:g} in the thread of {{}} is lower than the usual"
            f" {USUAL_THREAD_FRICTION:g}: the same torque then draws it tighter"
        )
    if slick_stainless(bolt):
        yield (
            f"friction {bolt.thread_friction:g} in the stainless thread of {{}} is that of a greased one: dry"
            f" it rubs with {STAINLESS_FRICTION:g} and more, and the same torque then clamps less"
        )
    stated = _stated_scatter(bolt)
    if stated is not None and stated < WRENCH_SCATTER - 1e-9:
        off = percent_apart(stated, WRENCH_SCATTER)
        yield f"preload of {{}} is stated and may be off by {off}%: a torque wrench gives 25 %"
    if by_torque and bolt.scatter < WRENCH_SCATTER:
        off = percent_apart(bolt.scatter, WRENCH_SCATTER)
        yield f"preload of {{}} may be off by {off}%: a torque wrench gives 25 %"
    if by_torque and (taken := prevailing_nm(bolt)) < (most := most_prevailing_nm(bolt)):
        yield (
            f"the locking nut of {{}} is said to take {taken:g} N.m of the torque: a new one may"
            f" take {most:g} N.m"
        )
    if not bolt.locking:
        yield "nothing is said of the locking of {}"


def slick_stainless(bolt: Bolt) -> bool:
    """Return whether a stainless bolt's preload comes from a torque at less friction than dry ones have."""
    if bolt.preload_n is not None or bolt.tightening_nm is None or bolt.grade is None:
        return False
    try:
        norm = bolt_grade(bolt.grade).norm
    except UnknownBoltError:
        return False
    return norm == STAINLESS_NORM and bolt.thread_friction < STAINLESS_FRICTION


def loose_loads(loads: Loads) -> list[str]:
    """Return what is lenient about the loads, as sentences."""
    found, usual_loads = [], Loads()
    if loads.factor is not None:
        usual_factor = loads.but(factor=None).couple_factor
        if loads.factor < usual_factor:
            found.append(
                f"the factor on the couple is {loads.factor:g}, lower than the usual {usual_factor:g}"
            )
    if loads.pull_n < usual_loads.pull_n:
        found.append(
            f"a pull of {loads.pull_n:g} N at the wheel is lower than the usual {usual_loads.pull_n:g} N"
        )
    if loads.weight_g < usual_loads.weight_g:
        found.append(f"weight x {loads.weight_g:g} is lower than the usual x {usual_loads.weight_g:g}")
    more, usual_more = loads.couple_may_be_more, loads.but(couple_uncertainty=None).couple_may_be_more
    if more < usual_more:
        found.append(
            f"the couple is said to be no more than {percent_apart(more, usual_more)}% larger, surer than"
            f" the usual {usual_more:.0%}"
        )
    return found + loose_life(loads)


def loose_life(loads: Loads) -> list[str]:
    """Return what is lenient about how often the couple reverses."""
    fatigue, usual, couple = loads.fatigue, Fatigue().full_cycles, loads.couple.value_nm
    found = []
    if fatigue.reversals < usual:
        found.append(f"{fatigue.reversals} full reversals over its life are fewer than the usual {usual}")
    if fatigue.spectrum and couple is not None and max(t.torque_nm for t in fatigue.spectrum) < couple:
        found.append(f"no couple of the spectrum of reversals reaches the {couple:.4g} N.m it is held to")
    return found


def _loose_sheets(bracket: Bracket) -> list[str]:
    found = []
    for plate in bracket.plates:
        said, usual = plate.thickness_tolerance_mm, usual_tolerance_of(bracket, plate)
        if said is not None and usual is not None and said < usual:
            found.append(
                f"plate {plate.name} is said to be no more than {said:g} mm thinner than its"
                f" {plate.thickness_mm:g} mm, truer than sheets usually are ({usual:g} mm)"
            )
    return found
