"""Inputs that can be turned by themselves while the plates stay as they were solved."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from geometry.bracket import Bracket
from geometry.casing import Column
from geometry.digits import with_digits
from geometry.findings_magnitudes import POSSIBLE_COUPLE_NM
from geometry.fixing import Bolt
from geometry.loads import StatedCouple
from geometry.nuts import prevailing_nm
from solver.results import PartName

_BUILT_IN: Final = ("welded", "stiffness", "bolted flange")
_STIFF: Final = (0.05, 4.0)
"""How far the column's stiffness is turned, times what it is."""


@dataclass(frozen=True)
class Knob:
    """One input of a bracket."""

    what: str
    value: float
    unit: str
    tried: tuple[float, ...]
    """What it may well be instead."""
    worse: float
    """How far it is turned to the side that asks more of the bracket."""
    better: float
    put: Callable[[Bracket, float], Bracket]
    """Return the bracket with the input at a value."""
    part: PartName | None = None
    """The part of the bands that what is tried stands for."""

    @property
    def now(self) -> str:
        """Return the value it has, in words."""
        return self.words(self.value)

    def words(self, value: float) -> str:
        """Return a value with its unit."""
        if self.unit == "x":
            return f"x {value:.3g}"
        if self.unit == "%":
            return f"{100.0 * value:.3g} %"
        return f"{with_digits(value, 3)} {self.unit}".rstrip()


@dataclass(frozen=True)
class Swap:
    """An input that is one thing or another."""

    what: str
    now: str
    then: str
    bracket: Bracket


def knobs_of(bracket: Bracket) -> Iterator[Knob]:
    """Yield every input of a bracket that can be turned."""
    yield from _of_loads(bracket)
    yield from _of_bolts(bracket)
    column = bracket.column
    if column.held_by in ("bearings", "donor mount"):
        yield Knob("stiffness of what else holds the column", 1.0, "x", (0.5, 2.0), *_STIFF, _with_column)


def swaps_of(bracket: Bracket) -> Iterator[Swap]:
    """Yield every input of a bracket that may well be another thing."""
    bar = bracket.dash_bar
    if bar is not None and any(end.kind in _BUILT_IN for end in bar.ends):
        now = " and ".join(dict.fromkeys(end.kind for end in bar.ends))
        pinned = bar.but(ends=tuple(end.pinned if end.kind in _BUILT_IN else end for end in bar.ends))
        yield Swap("ends of the dash bar", now, "pinned", bracket.but(dash_bar=pinned))
    if bracket.column.held_by in ("bearings", "donor mount"):
        alone = bracket.but(column=Column(held_by="nothing"))
        yield Swap("what else holds the column", bracket.column.held_by, "nothing", alone)


def _of_loads(bracket: Bracket) -> Iterator[Knob]:
    loads = bracket.loads
    couple = loads.couple.value_nm
    if couple:
        more = couple * (1.0 + loads.couple_may_be_more)
        tried = (more,) if more > couple else ()
        least = max(0.25 * couple, min(couple, POSSIBLE_COUPLE_NM[0]))
        yield Knob("couple", couple, "N.m", tried, 4.0 * couple, least, _with_couple, "couple")
    if loads.pull_n > 0.0:
        pull = loads.pull_n
        yield Knob("pull at the wheel", pull, "N", (1.5 * pull,), 4.0 * pull, 0.0, _with_pull)
    if loads.weight_g > 0.0:
        weight = loads.weight_g
        yield Knob("weight counted", weight, "times", (1.5 * weight,), 4.0 * weight, 0.0, _with_weight)


def _of_bolts(bracket: Bracket) -> Iterator[Knob]:
    bolts = bracket.bolts
    if not bolts:
        return
    if all(b.preload_n is not None or b.tightening_nm is not None for b in bolts):
        yield Knob("preload of every bolt", 1.0, "x", (0.75,), 0.1, 1.3, _with_preload)
    yield from _alike(bracket, "face_friction", "friction of clamped faces", (-0.05,), 0.02, 0.5)
    if all(b.preload_n is None and b.tightening_nm is not None for b in bolts):
        yield from _alike(bracket, "thread_friction", "friction in threads", (0.04,), 0.3, 0.06)
        yield from _alike(bracket, "scatter", "scatter of preload", (0.1,), 0.7, 0.0, "%")


def _alike(
    bracket: Bracket,
    name: str,
    what: str,
    off: tuple[float, ...],
    worse: float,
    better: float,
    unit: str = "",
) -> Iterator[Knob]:
    """Yield a figure that all bolts have in common; where it differs from bolt to bolt there is none."""
    values = {getattr(bolt, name) for bolt in bracket.bolts}
    if len(values) != 1 or None in values:
        return
    value = float(values.pop())
    tried = tuple(value + by for by in off if value + by > 0.0)

    def put(changed: Bracket, to: float) -> Bracket:
        return changed.but(bolts=tuple(bolt.but(**{name: to}) for bolt in changed.bolts))

    # what is past an end already is not turned back toward it
    if worse > better:
        worse, better = max(worse, value), min(better, value)
    else:
        worse, better = min(worse, value), max(better, value)
    yield Knob(what, value, unit, tried, worse, better, put)


def _with_couple(bracket: Bracket, couple_nm: float) -> Bracket:
    loads = bracket.loads
    stated = StatedCouple(couple_nm=couple_nm, by="a trial")
    kept = {"factor": loads.couple_factor, "couple_uncertainty": loads.couple_may_be_more}
    return bracket.but(loads=loads.but(couple=stated, **kept))


def _with_pull(bracket: Bracket, pull_n: float) -> Bracket:
    return bracket.but(loads=bracket.loads.but(pull_n=pull_n))


def _with_weight(bracket: Bracket, times: float) -> Bracket:
    return bracket.but(loads=bracket.loads.but(weight_g=times))


def _with_preload(bracket: Bracket, times: float) -> Bracket:
    return bracket.but(bolts=tuple(_tightened(bolt, times) for bolt in bracket.bolts))


def _tightened(bolt: Bolt, times: float) -> Bolt:
    if bolt.preload_n is not None:
        low, high = bolt.preload_n
        return bolt.but(preload_n=(low * times, high * times))
    # What its nut takes goes with it: all of the preload is turned alike.
    taken = prevailing_nm(bolt) * times
    return bolt.but(tightening_nm=(bolt.tightening_nm or 0.0) * times, prevailing_nm=taken)


def _with_column(bracket: Bracket, times: float) -> Bracket:
    column = bracket.column
    bearings = tuple(
        bearing.but(stiffness_n_per_mm=_scaled(bearing.stiffness_n_per_mm, times))
        for bearing in column.bearings
    )
    mount = column.mount
    if mount is not None:
        mount = mount.but(
            sideways_n_per_mm=_scaled(mount.sideways_n_per_mm, times),
            along_n_per_mm=_scaled(mount.along_n_per_mm, times),
        )
    return bracket.but(column=column.but(bearings=bearings, mount=mount))


def _scaled(stiffness: tuple[float, float], times: float) -> tuple[float, float]:
    return stiffness[0] * times, stiffness[1] * times
