"""Up the ladder: every step judged once, what is known already first, the rest as it comes."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from contextlib import closing

from app.ladder.kept_answers import KeptAnswers
from app.ladder.rung import Answer, Rung, held_to, unanswered
from app.ladder.steps import Ladder, Step
from geometry.bracket import Bracket

Judge = Callable[[Sequence[Bracket]], Generator[tuple[Bracket, Answer], None, None]]
"""Takes brackets and yields each with its answer, in any order."""


def climb(
    ladder: Ladder, judge: Judge, kept: KeptAnswers | None = None, *, afresh: bool = False
) -> Generator[Rung, None, None]:
    """Yield a rung for every step: refused and kept ones first, then each as it is judged.

    Steps with the same inputs are judged once. What was judged is kept at once, so that a climb that is
    stopped goes on where it was; `afresh` judges again what is kept. Closing it ends whoever judges.
    What is kept is of the bracket alone; each rung is held to what was found about the ladder's file.
    """
    asked: dict[str, Bracket] = {}
    waiting: dict[str, list[Step]] = {}
    for step in ladder.steps:
        if step.bracket is None:
            yield Rung(values=step.values, answer=unanswered(step.refused), said=step.said)
            continue
        known = None if kept is None or afresh else kept.find(step.bracket)
        if known is not None:
            yield Rung(values=step.values, answer=held_to(known, ladder.of_file), said=step.said, kept=True)
            continue
        key = step.bracket.input_hash()
        asked.setdefault(key, step.bracket)
        waiting.setdefault(key, []).append(step)
    if not asked:
        return
    with closing(judge(list(asked.values()))) as judged:
        for bracket, answer in judged:
            if kept is not None:
                kept.keep(bracket, answer)
            for step in waiting.pop(bracket.input_hash(), []):
                yield Rung(values=step.values, answer=held_to(answer, ladder.of_file), said=step.said)


def in_order(ladder: Ladder, rungs: Sequence[Rung]) -> list[Rung]:
    """Return rungs in the order of the ladder's steps; those that are not there yet are left out."""
    by_values = {rung.values: rung for rung in rungs}
    return [by_values[step.values] for step in ladder.steps if step.values in by_values]
