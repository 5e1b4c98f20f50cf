"""What differs between the kept table and the program, sample by sample."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from tests.golden.rows import STAGES, Figure, Row, kept, plain

AGREES: Final = 1e-9
"""Relative: the same machine and the same libraries give every figure to the last digit, so this is rounding
in the table and no more."""
FLOOR: Final = 1e-3
"""Figures below this, in their own unit, are compared as if they were as large: what should be nought is
rounding, and its relative change says nothing."""


@dataclass(frozen=True)
class Changed:
    """One figure that is not what it was; None where there was or is none."""

    stage: str
    thing: str
    figure: str
    before: Figure | None
    now: Figure | None

    @property
    def by(self) -> float:
        """Return the relative change; inf where it is no change of a number."""
        if isinstance(self.before, float) and isinstance(self.now, float):
            off = abs(self.now - self.before)
            return off / max(abs(self.before), FLOOR) if math.isfinite(off) else math.inf
        return math.inf


@dataclass(frozen=True)
class Difference:
    """Everything that changed in one sample, in the order of stages."""

    sample: str
    changes: tuple[Changed, ...]
    before: Mapping[str, Mapping[str, Figure]]
    """Figures of every `stage | thing` in the kept table."""
    now: Mapping[str, Mapping[str, Figure]]

    @property
    def new(self) -> bool:
        """Return whether the kept table does not have the sample."""
        return not self.before

    def at(self, stage: str) -> list[Changed]:
        """Return the changes of one stage."""
        return [change for change in self.changes if change.stage == stage]

    @property
    def first(self) -> str:
        """Return the first stage with a change."""
        return next(stage for stage in STAGES if self.at(stage))


def difference(
    sample: str, before: Iterable[Row], now: Iterable[Row], tolerance: float = AGREES
) -> Difference | None:
    """Return what changed in a sample by more than a relative tolerance; None if nothing did."""
    old, new = _by_place(before), _by_place(now)
    changes = [
        change
        for place in sorted({*old, *new})
        for change in _changes(place, old.get(place, {}), new.get(place, {}), tolerance)
    ]
    return Difference(sample, tuple(changes), old, new) if changes else None


def place_of(stage: str, thing: str) -> str:
    """Return the key of `Difference.before` and `Difference.now`."""
    return f"{stage}|{thing}"


def same(before: Figure | None, now: Figure | None, tolerance: float) -> bool:
    """Return whether two figures agree: numbers within the relative tolerance, texts to the letter."""
    if isinstance(before, float) and isinstance(now, float):
        if not (math.isfinite(before) and math.isfinite(now)):
            return before == now or (math.isnan(before) and math.isnan(now))
        return abs(before - now) <= tolerance * max(abs(before), abs(now), FLOOR)
    return before == now


def _by_place(rows: Iterable[Row]) -> dict[str, dict[str, Figure]]:
    return {
        place_of(row.stage, plain(row.thing)): {name: kept(figure) for name, figure in row.figures.items()}
        for row in rows
    }


def _changes(
    place: str, old: Mapping[str, Figure], new: Mapping[str, Figure], tolerance: float
) -> Sequence[Changed]:
    stage, _, thing = place.partition("|")
    names = dict.fromkeys((*old, *new))
    return [
        Changed(stage, thing, name, old.get(name), new.get(name))
        for name in names
        if not same(old.get(name), new.get(name), tolerance)
    ]
