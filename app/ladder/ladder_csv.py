"""A ladder as CSV: one line a step, units in the heads, no cell that would be taken for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Final

from app.files.csv_cell import still
from app.ladder.rung import Rung
from app.ladder.steps import Ladder
from app.wording.figures import plain

_HEADS: Final = (
    "verdict",
    "holds to (N.m)",
    "then",
    "nearest check",
    "used (%)",
    "friction share (%)",
    "mass (kg)",
    "cut length (mm)",
    "parts",
    "why",
    "what followed",
)


def ladder_csv(ladder: Ladder, rungs: Sequence[Rung]) -> str:
    """Return the CSV text; lines end as RFC 4180 has them."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow([_cell(_head(one.typed, one.key.unit)) for one in ladder.varied] + list(_HEADS))
    for rung in rungs:
        a = rung.answer
        share = None if a.friction_share is None else 100.0 * a.friction_share
        used = None if a.used_upper is None else 100.0 * a.used_upper
        cells = [
            *rung.values,
            a.verdict,
            _number(a.holds_to_nm),
            a.ended_by,
            a.governs,
            _number(used),
            _number(share),
            _number(a.mass_kg),
            _number(a.cut_length_mm),
            str(a.parts),
            a.trouble or a.reason,
            "; ".join(rung.said),
        ]
        writer.writerow([_cell(cell) for cell in cells])
    return stream.getvalue()


def _head(word: str, unit: str) -> str:
    return f"{word} ({unit})" if unit else word


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:.6g}"


def _cell(text: str) -> str:
    """Return the text, with an apostrophe before what a table program would compute."""
    return still(plain(text).replace("\n", " "))
