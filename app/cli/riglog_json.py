"""What a log says, as JSON; units stand in the keys."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from app.cli.strict_json import strict_json
from app.riglog.couple_words import couple_sentences

if TYPE_CHECKING:
    from app.riglog.bracket_log import BracketLog
    from app.riglog.couple_log import CoupleLog
    from app.riglog.opened import Judged


def riglog_json(found: Judged, beside: Sequence[str]) -> str:
    """Return the log's findings."""
    data: dict[str, Any] = {
        "file": found.log.table.name,
        "kind": found.kind,
        "rows": len(found.log),
        "columns": {role: column.model_dump() for role, column in found.log.columns.of.items()},
        "troubles": [asdict(trouble) for trouble in found.troubles],
        "beside_bracket": list(beside),
    }
    if found.couple is not None:
        data["couple"] = _couple(found.couple)
    if found.bracket is not None:
        data["bracket"] = _bracket(found.bracket)
    return strict_json(data)


def _couple(one: CoupleLog) -> dict[str, Any]:
    return {
        "source": one.source,
        "zeros": dict(one.zero.offsets),
        "cycles": one.cycles,
        "peak": asdict(one.peak),
        "cell_peak": None if one.cell_peak is None else asdict(one.cell_peak),
        "fast_peak_nm": one.fast_peak_nm,
        "rows_judged_share": float(one.slow.mean()),
        "fast_rows_told_apart": one.fast_known,
        "agreement": None if one.agreement is None else asdict(one.agreement),
        "rotor_inertia": None if one.inertia is None else asdict(one.inertia),
        "sentences": list(couple_sentences(one)),
    }


def _bracket(one: BracketLog) -> dict[str, Any]:
    unit = one.unit
    return {
        "zeros": dict(one.zero.offsets),
        "along": one.along,
        f"stiffness_nm_per_{unit}": one.stiffness,
        f"stiffness_error_nm_per_{unit}": one.stiffness_error,
        f"dead_band_{unit}": one.dead_band,
        f"dead_band_error_{unit}": one.dead_band_error,
        "dead_band_told_from_none": one.banded,
        "crossing_nm": one.crossing_nm,
        f"scatter_{unit}": one.scatter,
        "hard_rows": one.hard_rows,
        "sentences": list(one.sentences),
    }
