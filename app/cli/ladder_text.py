"""A ladder as text for people and as JSON for machines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.cautions import CAUTIONS
from app.cli.strict_json import strict_json
from app.ladder.ladder_rows import ladder_cells, ladder_heads
from app.wording.figures import Units, figure
from solver.version import VERSION

if TYPE_CHECKING:
    from app.cli.page import Page
    from app.ladder.least import Least
    from app.ladder.rung import Rung
    from app.ladder.steps import Ladder


def write_ladder(
    page: Page, ladder: Ladder, rungs: Sequence[Rung], least: Least, name: str, units: Units = "mm"
) -> None:
    """Write the sentence, the table and what followed the changes onto the page."""
    title = ladder.bracket.title
    page.line(f"{name}: {title}" if title else name, style="bold")
    page.line(least.sentence, style="bold")
    couple = ladder.bracket.loads.couple
    if couple.value_nm is not None:
        page.line(f"The couple is {figure(couple.value_nm)} N.m, {couple.words}.")
    page.blank()
    *varied, verdict, holds_to, then, mass = ladder_heads(ladder, units)
    page.table(
        [*varied, verdict, f">{holds_to}", then, f">{mass}"],
        [ladder_cells(ladder, rung, least, units) for rung in rungs],
    )
    _notes(page, "Why not", _whys(ladder, rungs))
    _notes(page, "What followed the changes", _followed(rungs))
    if any(rung.kept for rung in rungs):
        page.blank()
        count = sum(rung.kept for rung in rungs)
        page.line(
            f"{count} of {len(rungs)} were judged earlier with the same inputs (--afresh judges them again)."
        )
    page.heading("Cautions")
    page.bullets(CAUTIONS)


def ladder_json(ladder: Ladder, rungs: Sequence[Rung], least: Least) -> str:
    """Return the ladder as one JSON object."""
    data = {
        "title": ladder.bracket.title,
        "varied": [
            {"key": one.typed, "unit": one.key.unit, "values": list(one.values)} for one in ladder.varied
        ],
        "couple_nm": ladder.bracket.loads.couple.value_nm,
        "sentence": least.sentence,
        "least": [list(rung.values) for rung in least.rungs],
        "steps": len(ladder.steps),
        "rungs": [
            {"values": list(rung.values), **rung.answer.model_dump(), "said": list(rung.said)}
            for rung in rungs
        ],
        "cautions": list(CAUTIONS),
        "version": VERSION,
    }
    return strict_json(data)


def _whys(ladder: Ladder, rungs: Sequence[Rung]) -> list[str]:
    """Return why steps do not pass, steps with the same reason in one line."""
    groups: dict[str, list[str]] = {}
    for rung in rungs:
        if rung.answer.verdict != "pass":
            why = (rung.answer.trouble or rung.answer.reason).rstrip(".")
            groups.setdefault(f"{rung.answer.verdict}: {why}", []).append(ladder.words(rung.values))
    return [f"{'; '.join(words)} - {why}" for why, words in groups.items()]


def _followed(rungs: Sequence[Rung]) -> list[str]:
    return list(dict.fromkeys(words for rung in rungs for words in rung.said))


def _notes(page: Page, heading: str, lines: Sequence[str]) -> None:
    if lines:
        page.heading(heading)
        page.bullets(lines)
