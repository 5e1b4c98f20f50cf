"""A mend, and how a finding is led back to the thing it is about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found


@dataclass(frozen=True, eq=False)
class Mend:
    """What to do about a finding."""

    words: str
    """What it does, such as `make hole left 9 mm, ISO 273 medium for M8`."""
    apply: Callable[[Bracket], Bracket]
    """Does it; raises EditRefused if the bracket has changed so that it makes no sense any more."""


def is_about(finding: Finding, where: str) -> bool:
    """Return whether a finding is about the thing of those words."""
    return found(finding.code, where).where == finding.where
