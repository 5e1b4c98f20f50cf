"""The table of all checks: figures in columns, and under each check where it governs and what limits it."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Final

from app.wording.check_words import band_words, check_mark, hand_words, sort_key
from app.wording.figures import Units, figure, in_units, percent, plain, sentence_in_units

if TYPE_CHECKING:
    from app.cli.page import Page
    from solver.results import Check

_HEADS: Final = ("used", "band", "demand", "allowable", "by hand", "")
_STYLES: Final = {"over": "bold red", "BROKEN": "bold red", "near": "bold yellow"}


def write_checks(page: Page, checks: tuple[Check, ...], *, marginal_used: float, units: Units) -> None:
    """Write the table onto the page, worst first, detailing rules last."""
    ordered = sorted(checks, key=lambda c: (c.kind == "rule", -sort_key(c)))
    rows = [_figures(check, marginal_used, units) for check in ordered]
    widths = [max(len(row[i]) for row in [*rows, _HEADS]) for i in range(len(_HEADS))]
    figures_width = sum(widths) + 2 * len(widths)
    name_width = max(14, page.width - 2 - figures_width)
    longest = max((len(plain(c.name)) for c in checks), default=5)
    name_width = min(name_width, max(longest, 5))
    page.styled(("  ", ""), (_line("check".ljust(name_width), _HEADS, widths), "underline"))
    for check, row in zip(ordered, rows, strict=True):
        name, *more = textwrap.wrap(plain(check.name), name_width, break_on_hyphens=False) or [""]
        page.styled(("  ", ""), (_line(name.ljust(name_width), row, widths), _STYLES.get(row[-1], "")))
        for piece in more:
            page.styled(("  " + piece, _STYLES.get(row[-1], "")))
        page.line(_details(check, units), style="dim", indent=6)


def _figures(check: Check, marginal_used: float, units: Units) -> tuple[str, ...]:
    demand, unit = in_units(check.demand, check.unit, units)
    allowable, _ = in_units(check.allowable, check.unit, units)
    by_hand = None if check.by_hand is None else in_units(check.by_hand, check.unit, units)[0]
    mark = check_mark(check, marginal_used)
    rule = check.kind == "rule"
    return (
        mark if rule else percent(check.used),
        "" if rule or check.band == 0.0 else f"+{percent(check.band)}",
        figure(demand),
        f"{figure(allowable)} {unit}".rstrip(),
        "" if by_hand is None else figure(by_hand),
        "" if rule and mark == "met" else mark,
    )


def _details(check: Check, units: Units) -> str:
    place, case = (sentence_in_units(text, units) for text in (check.where, check.case))
    parts = [place, case, hand_words(check, units), band_words(check), f"limit: {check.source}"]
    line = "; ".join(part.strip().rstrip(".") for part in parts if part.strip())
    note = sentence_in_units(check.note, units)
    return f"{line}. {note[0].upper()}{note[1:]}" if note else line


def _line(name: str, cells: tuple[str, ...], widths: list[int]) -> str:
    *numbers, mark = cells
    line = name + "".join("  " + cell.rjust(w) for cell, w in zip(numbers, widths, strict=False))
    return f"{line}  {mark}".rstrip()
