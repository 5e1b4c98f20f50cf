"""What is told of a bracket with one input changed at a time; the words are those of `one_at_a_time`."""

from __future__ import annotations

from dataclasses import dataclass

from solver.results import Results, Verdict


@dataclass(frozen=True)
class Trial:
    """One input at another value."""

    what: str
    now: str
    then: str
    verdict: Verdict
    nearest: str
    """The check that comes nearest to its limit, of those that can fail; empty where nothing was checked."""
    used_upper: float
    holds_to_nm: float | None
    reason: str
    """The gravest."""


@dataclass(frozen=True)
class Turning:
    """Where one input turns the verdict."""

    what: str
    now: str
    at: str
    """Where the verdict is another; how far was looked, where it never is."""
    verdict: Verdict
    """From there on; as it is, where it never turns."""
    better: bool
    """Whether it was turned to the side that asks less of the bracket."""
    falls: bool
    """Whether it was turned down."""
    turns: bool


@dataclass(frozen=True)
class OneAtATime:
    """What hangs on each input by itself."""

    results: Results
    trials: tuple[Trial, ...]
    """Those that change most first."""
    turnings: tuple[Turning, ...]
