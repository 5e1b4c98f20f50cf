"""An invented bracket with nothing wrong, for tests that make one thing wrong; it checks no figure."""

from __future__ import annotations

import json
from typing import Any

from geometry.bracket import Bracket


def example_data() -> dict[str, Any]:
    """Return it as data: a flat plate across the shaft, two bosses, two bolts to a square dash bar."""
    return {
        "format": "holdsquare bracket",
        "version": 1,
        "title": "example",
        "plates": [
            {
                "name": "main",
                "material": "S235",
                "thickness_mm": 6,
                "outline": [
                    {"at_mm": [-70, -50], "radius_mm": 8},
                    {"at_mm": [70, -50], "radius_mm": 8},
                    {"at_mm": [70, 140], "radius_mm": 8},
                    {"at_mm": [-70, 140], "radius_mm": 8},
                ],
                "openings": [
                    {"kind": "hole", "name": "left", "centre_mm": [-40, 0], "diameter_mm": 9},
                    {"kind": "hole", "name": "right", "centre_mm": [40, 0], "diameter_mm": 9},
                    {"kind": "hole", "name": "upper left", "centre_mm": [-45, 110], "diameter_mm": 9},
                    {"kind": "hole", "name": "upper right", "centre_mm": [45, 110], "diameter_mm": 9},
                    {"kind": "hole", "name": "shaft", "centre_mm": [0, 0], "diameter_mm": 40},
                ],
            }
        ],
        "casing": {
            "bosses": [
                {"name": "a", "at_mm": [-40, 0, 0], "thread": "M8", "depth_mm": 20, "face_diameter_mm": 20},
                {"name": "b", "at_mm": [40, 0, 0], "thread": "M8", "depth_mm": 20, "face_diameter_mm": 20},
            ],
            "envelope": {"low_mm": [-60, -60, -150], "high_mm": [60, 60, 0]},
            "mass_kg": 8,
        },
        "column": {
            "held_by": "bearings",
            "bearings": [{"name": "upper", "station_mm": 300, "stiffness_n_per_mm": [2000, 8000]}],
        },
        "wheel": {"diameter_mm": 380, "station_mm": 420},
        "rake_deg": 25,
        "bolts": [
            _bolt("1", "left", {"to": "boss", "boss": "a"}),
            _bolt("2", "right", {"to": "boss", "boss": "b"}),
            _bolt("3", "upper left", {"to": "dash bar"}),
            _bolt("4", "upper right", {"to": "dash bar"}),
        ],
        "dash_bar": {
            "from_mm": [-600, 110, 31],
            "to_mm": [600, 110, 31],
            "section": {"kind": "rectangular tube", "width_mm": 50, "height_mm": 50, "wall_mm": 3},
            "ends": [
                {"kind": "welded", "seen_by": "the welder"},
                {"kind": "welded", "seen_by": "the welder"},
            ],
        },
        "loads": {"couple": {"source": "stated", "couple_nm": 30}},
    }


def example_bytes(data: Any = None) -> bytes:  # noqa: ANN401 - data is anything JSON holds
    """Return data, or the example's, as a file holds it."""
    return json.dumps(example_data() if data is None else data).encode()


def example_bracket() -> Bracket:
    """Return the example."""
    return Bracket.model_validate_json(example_bytes())


def changed(*steps: str | int, to: Any) -> dict[str, Any]:  # noqa: ANN401 - data is anything JSON holds
    """Return the example's data with one value, reached by keys and list places, put in."""
    data = example_data()
    here: Any = data
    for step in steps[:-1]:
        here = here[step]
    here[steps[-1]] = to
    return data


def _bolt(name: str, hole: str, joins: dict[str, str]) -> dict[str, Any]:
    return {
        "name": name,
        "size": "M8",
        "grade": "8.8",
        "plate": "main",
        "hole": hole,
        "joins": joins,
        "tightening_nm": 24,
    }
