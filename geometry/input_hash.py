"""The hash of all that enters a result.

A field that came to the file later is left out while it says what its absence said before, so that records
and stored results keep standing for the inputs they were made from.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any, Final

from geometry.installation import Installation
from geometry.loads import Fatigue
from geometry.other_loads import OtherLoads

NO_INPUT: Final = frozenset({"title", "note", "claim", "layout", "variants"})
"""Fields of the bracket that enter no result."""

LATER: Final[tuple[tuple[str, Any], ...]] = (
    ("installation", Installation().model_dump(mode="json")),
    ("installation.clamps", []),
    ("fit_up", None),
    ("loads.engine", None),
    ("loads.other", OtherLoads().model_dump(mode="json")),
    ("loads.fatigue", Fatigue().model_dump(mode="json")),
    ("plates.*.cut_by", "unknown"),
    ("plates.*.thickness_tolerance_mm", None),
    ("loads.couple_uncertainty", None),
    ("casing.bosses.*.tensile_mpa", None),
    ("dash_bar.stays", []),
    ("bolts.*.pad_height_mm", None),
    ("bolts.*.prevailing_nm", None),
    ("welds", []),
)
"""Path of each field that came later, `*` for every piece of a list, and what it says untouched, as JSON."""


def hash_of(inputs: dict[str, Any], later: tuple[tuple[str, Any], ...] = LATER) -> str:
    """Return the SHA-256, in hex, of a bracket dumped as JSON without `NO_INPUT`; it changes `inputs`."""
    for path, untouched in later:
        *way, last = path.split(".")
        for holder in _reached(inputs, way):
            if last in holder and holder[last] == untouched:
                del holder[last]
    text = json.dumps(inputs, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode()).hexdigest()


def _reached(tree: Any, way: list[str]) -> Iterator[dict[str, Any]]:  # noqa: ANN401 - any JSON
    if not way:
        if isinstance(tree, dict):
            yield tree
        return
    step, rest = way[0], way[1:]
    if step == "*":
        for piece in tree if isinstance(tree, list) else ():
            yield from _reached(piece, rest)
    elif isinstance(tree, dict) and step in tree:
        yield from _reached(tree[step], rest)
