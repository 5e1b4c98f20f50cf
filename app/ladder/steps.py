"""The steps of a ladder: every product of what is varied, each a bracket to judge.

Glossary
--------
step   one combination of values and the bracket that comes of it
rung   a step that has been judged
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

from pydantic import ValidationError

from app.editing.refused import EditRefused
from app.ladder.keys import Varied
from geometry.bracket import Bracket
from geometry.finding import Finding

MOST_STEPS: Final = 2000


@dataclass(frozen=True)
class Step:
    """One combination."""

    values: tuple[str, ...]
    """One for each thing varied, as typed."""
    bracket: Bracket | None
    said: tuple[str, ...] = ()
    """What followed the change, in words."""
    refused: str = ""
    """Why there is no such bracket, in a sentence."""


@dataclass(frozen=True)
class Ladder:
    """What is varied and the steps that come of it, the first thing varied changing slowest."""

    bracket: Bracket
    varied: tuple[Varied, ...]
    steps: tuple[Step, ...]
    of_file: tuple[Finding, ...] = ()
    """What was found about the bracket's file: it stands against every step's verdict."""

    def words(self, step_values: Sequence[str]) -> str:
        """Return a combination in words, such as `plate.thickness 4 mm, bolt.size M8`."""
        pairs = zip(self.varied, step_values, strict=True)
        return ", ".join(f"{one.typed} {one.with_unit(value)}" for one, value in pairs)


def ladder_of(bracket: Bracket, varied: Sequence[Varied], of_file: Sequence[Finding] = ()) -> Ladder:
    """Return the ladder; EditRefused if nothing is varied, one thing twice, or too much at once.

    `of_file` is what was found about the bracket's file.
    """
    if not varied:
        raise EditRefused("nothing is varied: say what, such as plate.thickness=3,4,5")
    words = [one.typed for one in varied]
    twice = next((word for word in words if words.count(word) > 1), None)
    if twice is not None:
        raise EditRefused(f"{twice} is varied twice: give all its values at once")
    count = math.prod(len(one.values) for one in varied)
    if count > MOST_STEPS:
        raise EditRefused(f"these are {count} steps and at most {MOST_STEPS} are judged: give fewer values")
    bare = bracket.but(variants=(), claim=None)
    steps = [_step(bare, varied, values) for values in product(*(one.values for one in varied))]
    return Ladder(bracket, tuple(varied), tuple(steps), tuple(of_file))


def _step(bracket: Bracket, varied: Sequence[Varied], values: tuple[str, ...]) -> Step:
    said: list[str] = []
    for one, value in zip(varied, values, strict=True):
        try:
            changed = one.applied(bracket, value)
        except EditRefused as refused:
            return Step(values, None, refused=str(refused))
        except ValidationError as wrong:
            return Step(values, None, refused=f"{one.typed} {value}: {wrong.errors()[0]['msg']}")
        bracket = changed.bracket
        said += changed.said
    return Step(values, bracket, tuple(said))
