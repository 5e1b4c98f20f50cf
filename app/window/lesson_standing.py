"""Where a lesson stands."""

from __future__ import annotations

from dataclasses import dataclass, field

from app.window.lists.trial import Trial


@dataclass(frozen=True)
class LessonStanding:
    """What the lesson shows: which step, what was predicted, what is tried."""

    step: int = 0
    predicted: int | None = None
    revealed: bool = False
    friction: bool = True
    trial: Trial = field(default_factory=Trial)
    linkage: bool = True
    motion: int = 0
    """How many free motions further than the first one is shown; those of the casing come first."""
