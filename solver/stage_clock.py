"""The stages of one analysis: told while they run, and timed."""

from __future__ import annotations

import time
from collections.abc import Callable

Progress = Callable[[str, float], None]
"""Takes the stage in words and the share of the work done, 0 to 1."""


class StageClock:
    """Tells progress and keeps the time of every stage."""

    def __init__(self, progress: Progress | None) -> None:
        self.progress = progress
        self.shares = (0.0, 1.0)
        """What shares of 0 and 1 are told as, while a part of the work counts its own."""
        self.began = time.perf_counter()
        self.marks: list[tuple[str, float]] = []

    def stage(self, words: str, share: float) -> None:
        """Begin a stage; `share` of the work is done."""
        self.marks.append((words, time.perf_counter()))
        if self.progress is not None:
            low, high = self.shares
            self.progress(words, low + share * (high - low))

    def seconds(self) -> dict[str, float]:
        """Return the time spent in each stage so far, and in all of them."""
        ends = [at for _, at in self.marks[1:]] + [time.perf_counter()]
        spent: dict[str, float] = {}
        for (words, at), end in zip(self.marks, ends, strict=True):
            spent[words] = spent.get(words, 0.0) + end - at
        spent["all"] = ends[-1] - self.began
        return spent
