"""A comparison as text for people: which is better first, then every figure with its difference."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from app.cautions import CAUTIONS
from app.cli.stamp import STYLES, stamp
from app.wording.figures import Units, percent, sentence_in_units
from app.wording.verdict_words import verdict_words

if TYPE_CHECKING:
    from app.cli.page import Page
    from app.compare.comparison import Comparison, Figure
    from app.compare.judged import Judged

_LETTERS: Final = "ABCD"
_NAMES_WIDTH: Final = 24
"""Names of figures wrap at this width rather than leave no room for the figures themselves."""


def write_comparison(page: Page, comparison: Comparison, units: Units = "mm") -> None:
    """Write everything there is to say of layouts side by side onto the page."""
    page.line(sentence_in_units(comparison.sentence, units), style="bold")
    page.line(comparison.ground_words)
    page.blank()
    for letter, judged in zip(_LETTERS, comparison.judged, strict=False):
        _stamped(page, letter, judged, units)
    page.heading("Other figures")
    _table(page, comparison.figures, comparison.judged, units)
    page.heading("Checks, used share at the upper end of the band")
    _table(page, comparison.checks, comparison.judged, units)
    page.line("A difference of checks is in per cent of the allowable.", style="dim", indent=2)
    page.heading("What resists the twist")
    for letter, judged, motions in zip(_LETTERS, comparison.judged, comparison.free_motions, strict=False):
        page.hanging(f"  {letter}  ", _resists(judged, motions, units))
    page.heading("What differs in the inputs")
    if comparison.differences:
        page.bullets(sentence_in_units(d.sentence, units) for d in comparison.differences)
    else:
        page.line("nothing", indent=2)
    page.heading("Cautions")
    page.bullets(CAUTIONS)


def _stamped(page: Page, letter: str, judged: Judged, units: Units) -> None:
    lines = stamp(judged.verdict, page.ascii_only)
    words = f"NO VERDICT: {judged.why_no_verdict}"
    if judged.results is not None and judged.verdict != "no verdict":
        words = verdict_words(judged.results, units)
    style = STYLES[judged.verdict]
    for number, line in enumerate(lines):
        beside = f"  {letter}  {judged.name}" if number == 1 else ""
        page.styled((line, style), (beside, ""))
    page.line(words, indent=4)


def _table(page: Page, figures: Sequence[Figure], judged: Sequence[Judged], units: Units) -> None:
    """Write the figures of all layouts, in as many tables as the page is too narrow for one."""
    layouts = []
    for number, letter in zip(range(len(judged)), _LETTERS, strict=False):
        columns = [(f">{letter}", *(figure.text(number, units) for figure in figures))]
        if number:
            columns.append((f">{letter} - A", *(figure.difference(number, units) for figure in figures)))
        layouts.append(columns)
    names = ("", *(figure.words for figure in figures))
    room = page.width - min(_NAMES_WIDTH, max(len(name) for name in names))
    tables: list[list[tuple[str, ...]]] = [[]]
    for columns in layouts:
        if tables[-1] and sum(map(_wide, (*tables[-1], *columns))) > room:
            tables.append([])
        tables[-1] += columns
    for number, columns in enumerate(tables):
        if number:
            page.blank()
        heads, *rows = zip(names, *columns, strict=True)
        page.table(heads, rows)


def _wide(column: Sequence[str]) -> int:
    """Return how wide a column stands in a table, the gap before it counted."""
    return max(len(cell) for cell in column) + 2


def _resists(judged: Judged, motions: Sequence[str], units: Units) -> str:
    if judged.results is None or judged.results.friction_share is None:
        return "not known: nothing was solved" + (f"; {'; '.join(motions)}" if motions else "")
    share = percent(judged.results.friction_share.share)
    if motions:
        return sentence_in_units(f"{'; '.join(motions)}. Friction share {share}.", units)
    return f"the plates themselves: no free motion with every bolt slipped. Friction share {share}."
