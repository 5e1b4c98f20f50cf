"""Preload from tightening torque and back, after VDI 2230 (2001 basis), and how far it may be off.

Glossary
--------
preload         force a tightened bolt clamps with
tightening      torque on the wrench, N.m
mu              friction in the thread and under the head, taken alike
scatter         share by which preload lies below or above what the torque gives
prevailing      torque that turns a locking nut before it clamps anything
settling        preload lost when clamped faces bed into each other
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from geometry.bolt_tables import BoltGrade, BoltSize
from geometry.fixing import USUAL_THREAD_FRICTION, WRENCH_SCATTER

SOURCE: Final = "VDI 2230 (2001 basis)"
YIELD_SHARE: Final = 0.9
"""Share of Rp0.2 the combined stress reaches in the tables of VDI 2230."""
BOLT_MODULUS_MPA: Final = 205_000.0
SETTLING_SOURCE: Final = "VDI 2230 table 5, faces of Rz below 10 micrometre (from memory, to be verified)"

_THREAD_SETTLING_MM: Final = 0.003
_HEAD_SETTLING_MM: Final = 0.0025
_FACE_SETTLING_MM: Final = 0.0015


class TighteningError(ValueError):
    """A torque, preload, friction or scatter that no bolt can have."""


@dataclass(frozen=True)
class Preload:
    """What a tightening torque makes of a bolt."""

    tightening_nm: float
    middle_n: float
    """What the torque gives at the stated friction."""
    low_n: float
    """After scatter and settling; it governs slip and opening. Never below 0, nor above the bolt's yield."""
    high_n: float
    """After scatter; it governs the bolt."""
    surely_n: float
    """What the torque draws the bolt to at the low end of its scatter, were it strong enough."""
    settling_n: float
    yield_used: float
    """Combined stress of pull and twist while tightening to `high_n`, over Rp0.2."""
    warning: str
    """A sentence if tightening can take the bolt past its yield; else empty."""
    source: str


def preload_n(
    size: BoltSize,
    tightening_nm: float,
    friction: float = USUAL_THREAD_FRICTION,
    hole_mm: float | None = None,
) -> float:
    """Return the preload in N that a torque gives: M_A / (0.16 P + 0.58 d2 mu + D_Km mu / 2).

    D_Km = (dw + dh) / 2 with the hole dh, ISO 273 medium where None. TighteningError for values out of range.
    """
    _refuse("a tightening torque", tightening_nm, "N.m")
    return tightening_nm * 1000.0 / _torque_arm_mm(size, friction, hole_mm)


def tightening_nm(
    size: BoltSize,
    wanted_preload_n: float,
    friction: float = USUAL_THREAD_FRICTION,
    hole_mm: float | None = None,
) -> float:
    """Return the torque in N.m that gives a preload: F (0.16 P + 0.58 d2 mu + D_Km mu / 2).

    The inverse of `preload_n`. TighteningError for values out of range.
    """
    _refuse("a preload", wanted_preload_n, "N")
    return wanted_preload_n * _torque_arm_mm(size, friction, hole_mm) / 1000.0


def table_preload_n(
    size: BoltSize,
    grade: BoltGrade,
    friction: float = USUAL_THREAD_FRICTION,
    yield_share: float = YIELD_SHARE,
) -> float:
    """Return the preload in N at which pull and twist together reach a share of Rp0.2, 0.9 in the tables.

    F = 0.9 Rp A_s / sqrt(1 + 3 [1.5 (d2/ds) (P/(pi d2) + 1.155 mu)]^2). TighteningError for a friction
    out of range.
    """
    return yield_share * grade.yield_mpa * size.stress_area_mm2 / _twist_factor(size, friction)


def table_tightening_nm(
    size: BoltSize, grade: BoltGrade, friction: float = USUAL_THREAD_FRICTION, hole_mm: float | None = None
) -> float:
    """Return the torque in N.m that goes with `table_preload_n`; TighteningError for values out of range."""
    return tightening_nm(size, table_preload_n(size, grade, friction), friction, hole_mm)


def yield_used(
    size: BoltSize, grade: BoltGrade, at_preload_n: float, friction: float = USUAL_THREAD_FRICTION
) -> float:
    """Return the combined stress of pull and twist while tightening to a preload, over Rp0.2."""
    return at_preload_n * _twist_factor(size, friction) / (size.stress_area_mm2 * grade.yield_mpa)


def settling_loss_n(size: BoltSize, clamped_mm: float, faces: int) -> float:
    """Return the preload in N lost when the clamped faces bed in, at most.

    3 micrometre in the thread, 2.5 under the head, 1.5 at each of `faces` clamped faces (SETTLING_SOURCE),
    over the flexibility of the bolt alone: clamped length plus 0.5 d in the head, 0.5 d of engaged shank and
    0.4 d of thread on A_s (lengths of VDI 2230 5.1.1, from memory, to be verified).
    The clamped parts are taken as rigid, which overstates the loss. TighteningError for a clamped length
    that is not above zero or fewer than one face.
    """
    _refuse("a clamped length", clamped_mm, "mm")
    if faces < 1:
        raise TighteningError(f"{faces} clamped faces: a bolt clamps at least one, plate on partner")
    settled_mm = _THREAD_SETTLING_MM + _HEAD_SETTLING_MM + faces * _FACE_SETTLING_MM
    length_mm = clamped_mm + 1.4 * size.diameter_mm
    return settled_mm * BOLT_MODULUS_MPA * size.stress_area_mm2 / length_mm


def tighten(
    size: BoltSize,
    grade: BoltGrade,
    torque_nm: float,
    friction: float = USUAL_THREAD_FRICTION,
    scatter: float = WRENCH_SCATTER,
    *,
    settling_n: float = 0.0,
    prevailing_nm: float = 0.0,
    hole_mm: float | None = None,
) -> Preload:
    """Return what a tightening torque makes of a bolt: preload low, middle, high, and how near yield it goes.

    `scatter` is a share; `settling_n` (see `settling_loss_n`) and what `prevailing_nm` of the torque would
    have given are taken off the low end alone: a nut that was on before turns more freely. No more clamps
    than the bolt bears at its yield, pulled and twisted. The high end is not capped there: a bolt tightened
    past it carries a warning. TighteningError for values out of range.
    """
    if not 0.0 <= scatter < 1.0:
        raise TighteningError(f"a scatter of {scatter:g} is outside 0 to 1: 0.25 stands for a torque wrench")
    if not (math.isfinite(settling_n) and settling_n >= 0.0):
        raise TighteningError(f"a settling loss of {settling_n:g} N is not possible: give 0 or more")
    middle = preload_n(size, torque_nm, friction, hole_mm)
    left = max(0.0, 1.0 - prevailing_nm / torque_nm)
    high, surely = middle * (1.0 + scatter), middle * left * (1.0 - scatter)
    used = yield_used(size, grade, high, friction)
    borne = table_preload_n(size, grade, friction, yield_share=1.0)
    return Preload(
        tightening_nm=torque_nm,
        middle_n=middle,
        low_n=max(0.0, min(surely, borne) - settling_n),
        high_n=high,
        surely_n=surely,
        settling_n=settling_n,
        yield_used=used,
        warning=_yield_warning(size, grade, torque_nm, friction, hole_mm) if used > 1.0 else "",
        source=SOURCE,
    )


def _yield_warning(
    size: BoltSize, grade: BoltGrade, torque_nm: float, friction: float, hole_mm: float | None
) -> str:
    usual = table_tightening_nm(size, grade, friction, hole_mm)
    return (
        f"{torque_nm:.3g} N.m with its scatter can take {size.name} {grade.name} past its yield; without "
        f"scatter {usual:.3g} N.m takes it to {YIELD_SHARE:.0%} of it, at friction {friction:g}"
    )


def _torque_arm_mm(size: BoltSize, friction: float, hole_mm: float | None) -> float:
    _refuse_friction(friction)
    hole = size.hole_medium_mm if hole_mm is None else hole_mm
    _refuse("a hole", hole, "mm")
    head_mean = (size.head_face_mm + hole) / 2.0
    return 0.16 * size.pitch_mm + 0.58 * size.pitch_diameter_mm * friction + head_mean * friction / 2.0


def _twist_factor(size: BoltSize, friction: float) -> float:
    """Return combined stress over pull alone while tightening."""
    _refuse_friction(friction)
    d2 = size.pitch_diameter_mm
    twist = 1.5 * d2 / size.stress_diameter_mm * (size.pitch_mm / (math.pi * d2) + 1.155 * friction)
    return math.sqrt(1.0 + 3.0 * twist**2)


def _refuse_friction(friction: float) -> None:
    if not 0.0 < friction <= 1.0:
        raise TighteningError(f"a thread friction of {friction:g} is outside 0 to 1: 0.12 is usual")


def _refuse(word: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and value > 0.0):
        raise TighteningError(f"{word} of {value:g} {unit} is not possible: give one above zero")
