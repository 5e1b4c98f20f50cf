"""What the window's process and the worker's process say to each other.

Glossary
--------
number  of a question; an answer carries its question's
key     hash of all inputs an answer belongs to, limits in force included: `Bracket.input_hash`
"""

from __future__ import annotations

from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.loads import Limits
from solver.results import QuickAnswer, Results


@dataclass(frozen=True)
class Asked:
    """Judge this bracket; whatever was asked before is dropped."""

    number: int
    bracket: Bracket
    limits: Limits | None = None
    """In place of the bracket's own."""
    refine: bool = True

    @property
    def judged(self) -> Bracket:
        """Return the bracket with the limits in force."""
        return self.bracket if self.limits is None else self.bracket.but(limits=self.limits)

    @property
    def key(self) -> str:
        """Return the key its answers carry."""
        return self.judged.input_hash()


@dataclass(frozen=True)
class AskedQuick:
    """Answer at once, if this bracket has the plates of one that was judged."""

    number: int
    bracket: Bracket
    out: tuple[str, ...] = ()
    slipped: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Return the key its answer carries."""
        return self.bracket.input_hash()


@dataclass(frozen=True)
class Dropped:
    """Nobody waits for the answer any more: end the analysis."""

    number: int


@dataclass(frozen=True)
class Ready:
    """The worker has imported all that it needs."""

    seconds: float
    """Since its process began to run Python."""


@dataclass(frozen=True)
class Progress:
    """How far the analysis has come."""

    number: int
    words: str
    share: float


@dataclass(frozen=True)
class Pencil:
    """What the first mesh says; ink follows."""

    number: int
    key: str
    results: Results


@dataclass(frozen=True)
class Ink:
    """The answer."""

    number: int
    key: str
    results: Results


@dataclass(frozen=True)
class Quick:
    """The quick answer."""

    number: int
    key: str
    answer: QuickAnswer | None
    """None where the quick path cannot answer: other plates, or nothing to solve."""


@dataclass(frozen=True)
class Failed:
    """No answer, and why, in a sentence."""

    number: int
    words: str
    final: bool = True
    """False where the same question has been asked again by itself."""


Question = Asked | AskedQuick | Dropped
Answer = Ready | Progress | Pencil | Ink | Quick | Failed
