"""The table of all checks: figures in columns, and under each check where it governs and what limits it."""

from __future__ import annotations

import math
import textwrap
from typing import TYPE_CHECKING, Final

from app.cli.figures import Units, figure, in_units, percent, plain, sentence_in_units

if TYPE_CHECKING:
    from app.cli.page import Page
    from solver.results import Check

_HEADS: Final = ("used", "band", "demand", "allowable", "by hand", "")
_FAR_FROM_HAND: Final = 0.3
_STYLES: Final = {"over": "bold red", "BROKEN": "bold red", "near": "bold yellow"}


def write_checks(page: Page, checks: tuple[Check, ...], *, marginal_used: float, units: Units) -> None:
    """Write the table onto the page, worst first, detailing rules last."""
    ordered = sorted(checks, key=lambda c: (c.kind == "rule", -_sort_key(c)))
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


def check_mark(check: Check, marginal_used: float) -> str:
    """Return in a word how a check stands at its band's upper end: over, near, or nothing to say."""
    if check.kind == "rule":
        return "met" if check.used_upper <= 1.0 else "BROKEN"
    if not check.used_upper <= 1.0:  # not >: no number is over too
        return "over"
    if check.kind != "share" and check.used_upper > marginal_used:
        return "near"
    return ""


def hand_words(check: Check, units: Units) -> str:
    """Return the hand figure beside the computed one in words; empty where there is none."""
    if check.by_hand is None:
        return ""
    by_hand, unit = in_units(check.by_hand, check.unit, units)
    here, _ = in_units(check.demand, check.unit, units)
    words = f"by hand {figure(by_hand)} {unit}".rstrip() + f", here {figure(here)} {unit}".rstrip()
    apart = abs(check.demand - check.by_hand) > _FAR_FROM_HAND * max(abs(check.demand), abs(check.by_hand))
    if apart:
        words += ", more than 30 % apart"
    return words + (f" ({check.by_hand_words})" if check.by_hand_words else "")


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
    parts = [place, case, hand_words(check, units), f"limit: {check.source}"]
    line = "; ".join(part.strip().rstrip(".") for part in parts if part.strip())
    note = sentence_in_units(check.note, units)
    return f"{line}. {note[0].upper()}{note[1:]}" if note else line


def _line(name: str, cells: tuple[str, ...], widths: list[int]) -> str:
    *numbers, mark = cells
    line = name + "".join("  " + cell.rjust(w) for cell, w in zip(numbers, widths, strict=False))
    return f"{line}  {mark}".rstrip()


def _sort_key(check: Check) -> float:
    # no number sorts as the worst
    return float("inf") if math.isnan(check.used_upper) else check.used_upper
