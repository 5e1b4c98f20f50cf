"""A comparison as JSON for machines: keys in a fixed order, no number that is not finite."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.cautions import CAUTIONS
from app.cli.strict_json import strict_json
from solver.version import VERSION

if TYPE_CHECKING:
    from app.compare.comparison import Comparison, Figure
    from app.compare.judged import Judged


def comparison_json(comparison: Comparison) -> str:
    """Return the comparison as one object. Figures state their unit; `%` figures are shares, 1 is 100 %."""
    data = {
        "better": None if comparison.better is None else comparison.judged[comparison.better].name,
        "sentence": comparison.sentence,
        "same_ground": comparison.same_ground,
        "ground": comparison.ground_words,
        "layouts": [
            _layout(one, motions)
            for one, motions in zip(comparison.judged, comparison.free_motions, strict=True)
        ],
        "checks": [_figure(figure) for figure in comparison.checks],
        "figures": [_figure(figure) for figure in comparison.figures],
        "differences": [
            {"what": d.what, "kind": d.kind, "values": list(d.values), "sentence": d.sentence}
            for d in comparison.differences
        ],
        "cautions": list(CAUTIONS),
        "version": VERSION,
    }
    return strict_json(data)


def _layout(judged: Judged, motions: tuple[str, ...]) -> dict[str, Any]:
    r = judged.results
    return {
        "name": judged.name,
        "title": judged.layout.bracket.title,
        "verdict": judged.verdict,
        "why_no_verdict": judged.why_no_verdict,
        "reasons": [] if r is None else list(r.reasons),
        "couple_nm": None if r is None else r.couple_nm,
        "holds_to_nm": None if r is None else r.holds_to_nm,
        "ended_by": "" if r is None else r.ended_by,
        "free_motions": list(motions),
        "hash": judged.layout.bracket.input_hash(),
    }


def _figure(figure: Figure) -> dict[str, Any]:
    first = figure.values[0]
    return {
        "name": figure.words,
        "unit": figure.unit,
        "values": list(figure.values),
        "differences": [None if v is None or first is None else v - first for v in figure.values],
        "good": figure.good,
    }
