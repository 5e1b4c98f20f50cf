"""What a log says, as text."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from app.riglog.couple_words import couple_sentences
from app.riglog.log_words import bracket_rows, couple_rows, headline
from app.wording.figures import Units, figure, in_units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.cli.page import Page
    from app.riglog.opened import Judged


_NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")


def write_log(page: Page, found: Judged, beside: Sequence[str], name: str, units: Units = "mm") -> None:
    """Write the log's page; its columns stay in the log's own units."""
    page.line(f"{name}: {found.kind} log, {len(found.log)} rows", style="bold")
    page.line(headline(found))
    if found.troubles:
        page.heading("Wrong with the log")
        page.bullets(trouble.sentence for trouble in found.troubles)
    page.heading("Columns")
    page.table(("what", "column", "unit", "zero"), _columns(found))
    if found.couple is not None:
        page.heading("Couple")
        page.table(("what", ">value", "unit"), _in(units, couple_rows(found.couple)))
        page.bullets(couple_sentences(found.couple))
    if found.bracket is not None:
        page.heading("Bracket")
        page.table(("what", ">value", ">standard error", "unit"), _in(units, bracket_rows(found.bracket)))
        page.bullets(found.bracket.sentences)
    if beside:
        page.heading("Beside the bracket file")
        page.bullets(beside)


def _in(units: Units, rows: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Return rows of what, figures and their unit in the units wanted; figures have three digits."""
    if units == "mm":
        return list(rows)
    return [
        (what, *(_figures(cell, unit) for cell in cells), in_units(1.0, unit, units)[1])
        for what, *cells, unit in rows
    ]


def _figures(cell: str, unit: str) -> str:
    if in_units(1.0, unit, "inch")[1] == unit:
        return cell
    return _NUMBER.sub(lambda number: figure(in_units(float(number[0]), unit, "inch")[0]), cell)


def _columns(found: Judged) -> list[tuple[str, str, str, str]]:
    zero = (
        found.couple.zero.offsets
        if found.couple is not None
        else found.bracket.zero.offsets
        if found.bracket is not None
        else {}
    )
    rows: list[tuple[str, str, str, str]] = []
    for role, column in found.log.columns.of.items():
        figure = f"{column.figure:g}" if column.figure is not None else ""
        sign = "-" if column.sign < 0 else ""
        rows.append(
            (
                role,
                f"{sign}{column.name}" if column.name else f"{figure} for the whole log",
                column.unit,
                f"{zero[role]:.4g}" if role in zero else "",
            )
        )
    return rows
