"""Sample brackets and results for the lists under the drawing."""

from __future__ import annotations

from pathlib import Path

from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket

_SAMPLES = Path(__file__).parents[4] / "sample_brackets"


def sample(name: str) -> Bracket:
    """Return a sample bracket by the stem of its file."""
    bracket = read_bracket(_SAMPLES / f"{name}.bracket.json").bracket
    assert bracket is not None
    return bracket


def one_piece() -> Bracket:
    """Return the one-piece sample: bolts 1 to 3 alike on the casing, 4 to 7 on the dash bar."""
    return sample("marlpit_one_piece")
