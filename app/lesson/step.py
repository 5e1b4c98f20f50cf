"""One question of a lesson, as data.

Glossary
--------
step    one question with choices, the right one of them, and what is shown as the answer is revealed
shows   what the picture does on revealing: the couple at rest, free motion, the load case that moves most ...
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from geometry.bracket import Bracket

Shows = Literal["couple", "free motion", "loosened bolt", "pull", "sawn", "turned", "verdict"]


@dataclass(frozen=True)
class Step:
    """One question."""

    name: str
    question: str
    choices: tuple[str, ...]
    answer: int
    """Place of the right choice; below 0 while it is being worked out."""
    reveal: str
    """What is so, in few words, with this bracket's figures: big enough to be read from the last row."""
    shows: Shows
    bolt: str = ""
    """Loosened or taken out in the picture."""
    case: int | None = None
    """Load case of the results to show."""
    bracket: Bracket | None = None
    """Shown in place of the open one: its sawn twin."""
    note: str = ""
    """What is said beside it in small type."""

    @property
    def told(self) -> str:
        """Return the answer with its note, for paper."""
        return f"{self.reveal} {self.note}".strip()
