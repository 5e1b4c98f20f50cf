"""Layouts side by side as one frozen answer: what differs, every figure with its difference, which is better.

Glossary
--------
judged    a layout with what its analysis says
figure    one row of the table: a value for each layout
first     the layout that differences are taken from: the one named first
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from app.compare.better import better_of
from app.compare.differences import Difference, differences_of, unequal_ground
from app.compare.judged import Judged
from app.wording.check_words import check_mark
from app.wording.figures import Units, figure, percent, quantity
from app.wording.lash_words import WITHOUT_END
from solver.results import CasingMovement, Check, FrictionShare

Less = Literal["less is better", "more is better", ""]

_ALIKE = 1e-5
"""Share by which figures differ that come from the same sizes by another way: rounding, and no more."""
_NOUGHT = 1e-9


@dataclass(frozen=True)
class Figure:
    """One row of the table."""

    words: str
    unit: str
    """`%` for a used share or another share, else of the values; empty for a count or for words."""
    values: tuple[float | None, ...]
    """One for each layout; shares as fractions; None where it has no such figure."""
    good: Less = ""
    notes: tuple[str, ...] = ()
    """For each layout what stands in place of a number, such as `met`; empty where the number does."""

    def text(self, number: int, units: Units = "mm") -> str:
        """Return the figure of one layout in words, a dash where there is none."""
        if self.notes and self.notes[number]:
            return self.notes[number]
        value = self.values[number]
        if value is None:
            return "-"
        if not math.isfinite(value):
            return figure(value)
        if self.unit == "%":
            return percent(value)
        return (
            f"{value:g}" if not self.unit and float(value).is_integer() else quantity(value, self.unit, units)
        )

    def difference(self, number: int, units: Units = "mm") -> str:
        """Return how much a layout's figure is above or below the first one's; empty for the first itself."""
        first, value = self.values[0], self.values[number]
        if number == 0 or first is None or value is None or (self.notes and self.notes[number]):
            return ""
        by = value - first
        if not math.isfinite(by):
            return ""
        if abs(by) < _ALIKE * max(abs(first), abs(value)) or abs(by) < _NOUGHT:
            return "same"
        sign = "+" if by > 0 else "\u2212"
        size = abs(by)
        if self.unit == "%":
            return f"{sign}{percent(size)}" if size >= 0.0005 else "same"
        return f"{sign}{size:g}" if not self.unit else f"{sign}{quantity(size, self.unit, units)}"


@dataclass(frozen=True)
class Comparison:
    """Everything there is to say of layouts side by side."""

    judged: tuple[Judged, ...]
    same_ground: bool
    """Whether all are held to the same loads and limits, on the same casing and column."""
    ground_words: str
    """A sentence that says so, or what differs."""
    differences: tuple[Difference, ...]
    checks: tuple[Figure, ...]
    """Used share of every check at the upper end of its band, worst first; detailing rules last."""
    figures: tuple[Figure, ...]
    """All other figures: what it holds to, mass, cutting, parts, friction share, what resists the twist."""
    free_motions: tuple[tuple[str, ...], ...]
    """Of each layout, in words."""
    better: int | None
    """Number of the layout that is better; None where none is called so."""
    sentence: str
    """Which is better and why, or why none is called so."""


def compare(judged: Sequence[Judged]) -> Comparison:
    """Return two to four judged layouts side by side; ValueError for another number of them."""
    if not 2 <= len(judged) <= 4:
        raise ValueError(f"{len(judged)} layouts cannot be laid side by side: name two to four")
    layouts = [one.layout for one in judged]
    ground = unequal_ground(layouts)
    found = better_of(judged, ground)
    return Comparison(
        judged=tuple(judged),
        same_ground=not ground,
        ground_words=ground_words(ground),
        differences=differences_of(layouts),
        checks=tuple(_check_figures(judged)),
        figures=tuple(_figures(judged)),
        free_motions=tuple(_motions(one) for one in judged),
        better=found.better,
        sentence=found.sentence,
    )


def ground_words(ground: Sequence[str]) -> str:
    """Return the sentence about whether all are held to the same."""
    if not ground:
        return "All are held to the same loads and limits, with the same casing and column."
    return f"They are not held to the same: they differ in {_and(ground)}."


def _motions(judged: Judged) -> tuple[str, ...]:
    return () if judged.results is None else tuple(m.words for m in judged.results.free_motions)


def _check_figures(judged: Sequence[Judged]) -> Iterable[Figure]:
    by_words = [_checks_by_words(one) for one in judged]
    words = list(dict.fromkeys(w for one in by_words for w in one))
    figures = []
    for name in words:
        checks = [one.get(name) for one in by_words]
        rule = any(c is not None and c.kind == "rule" for c in checks)
        notes = tuple("" if c is None or not rule else check_mark(c, 1.0) for c in checks)
        values = tuple(None if c is None else c.used_upper for c in checks)
        figures.append(Figure(name, "%", values, "less is better", notes if rule else ()))
    return sorted(figures, key=lambda f: (bool(f.notes), -max(_sized(v) for v in f.values)))


def _sized(value: float | None) -> float:
    return -1.0 if value is None else math.inf if math.isnan(value) else value


def _checks_by_words(judged: Judged) -> dict[str, Check]:
    """Return the worst check of each kind; checks of one plate are called after their kind alone."""
    worst: dict[str, Check] = {}
    for check in () if judged.results is None else judged.results.checks:
        name = check.name
        for plate in judged.layout.bracket.plates:
            name = name.removesuffix(f", {plate.name}")
        if name not in worst or _sized(worst[name].used_upper) < _sized(check.used_upper):
            worst[name] = check
    return worst


def _figures(judged: Sequence[Judged]) -> Iterable[Figure]:
    results = [one.results for one in judged]
    holds = tuple(None if r is None else r.holds_to_nm for r in results)
    beyond = tuple("more than is looked for" if one.holds_beyond else "" for one in judged)
    yield Figure("holds to", "N.m", holds, "more is better", beyond if any(beyond) else ())
    alone = tuple(None if r is None else r.friction_fails_nm for r in results)
    yield Figure("friction alone fails at, plates rigid", "N.m", alone, "more is better")
    casing = [None if r is None else r.casing for r in results]

    def of_casing(value: Callable[[CasingMovement], float]) -> tuple[float | None, ...]:
        return tuple(None if c is None else value(c) for c in casing)

    yield Figure("turn under the couple", "deg", of_casing(lambda c: c.turn_deg), "less is better")
    moved = of_casing(lambda c: c.movement_mm)
    yield Figure("largest movement under the couple", "mm", moved, "less is better")
    lash = of_casing(lambda c: c.lash_deg)
    endless = tuple(WITHOUT_END if value == math.inf else "" for value in lash)
    yield Figure("lash, both ways together", "deg", lash, "less is better", endless)
    share = [None if r is None else r.friction_share for r in results]

    def of_share(value: Callable[[FrictionShare], float]) -> tuple[float | None, ...]:
        return tuple(None if s is None else value(s) for s in share)

    yield Figure("friction share", "%", of_share(lambda s: s.share), "less is better")
    stuck = of_share(lambda s: s.stuck_nm_per_deg)
    yield Figure("resists the twist, bolts stuck", "N.m/deg", stuck, "more is better")
    slipped = of_share(lambda s: s.slipped_nm_per_deg)
    yield Figure("resists the twist, bolts slipped", "N.m/deg", slipped, "more is better")
    free = tuple(None if r is None else float(len(r.free_motions)) for r in results)
    yield Figure("free motions", "", free, "less is better")
    makings = [one.makings for one in judged]
    yield Figure("mass of the plates", "kg", tuple(m.mass_kg for m in makings), "less is better")
    yield Figure("cut length", "mm", tuple(m.cut_length_mm for m in makings), "less is better")
    yield Figure("parts", "", tuple(float(m.parts) for m in makings), "less is better")
    yield Figure("of them plates", "", tuple(float(m.plates) for m in makings))
    yield Figure("of them bolts", "", tuple(float(m.bolts) for m in makings))
    yield Figure("folds", "", tuple(float(m.folds) for m in makings))


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
