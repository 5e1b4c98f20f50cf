"""Laws of reading, saving and finding that hold whatever the file: tried on brackets nobody would draw."""

from __future__ import annotations

import copy
import json
import math
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.bracket import Bracket
from geometry.bracket_file import bracket_of, read_bracket, save_bracket
from geometry.file_writing import bracket_text
from geometry.finding_words import sentence
from geometry.findings import findings_of
from geometry.fixing import Bolt
from geometry.plate import Plate
from tests.geometry.example_bracket import example_bytes

OLD_FILE = Path(__file__).parents[1] / "old_files" / "version_1.bracket.json"
FULL = json.loads(OLD_FILE.read_text(encoding="utf-8"))

figures = st.one_of(
    st.floats(allow_nan=False, allow_infinity=False, min_value=-1e6, max_value=1e6),
    st.integers(-10_000, 10_000),
    st.sampled_from([0, -0.0, 1e-300, 5e-324, 1e9, -1e9, 0.1, 1 / 3]),
)
strange = st.one_of(
    figures,
    st.none(),
    st.booleans(),
    st.text(max_size=5),
    st.sampled_from(
        [math.nan, math.inf, -math.inf, 1e308, 10**30, "", " ", "\ud800", "a", "M8", "hole", "welded"]
    ),
    st.lists(figures, max_size=4),
    st.builds(dict),
    st.builds(lambda: [{}]),
    st.dictionaries(st.sampled_from(["name", "kind", "to", "at_mm", "x"]), figures, max_size=2),
)


def places(data: Any, before: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:  # noqa: ANN401
    """Yield the way to every piece of data."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in pairs:
        yield (*before, key)
        yield from places(value, (*before, key))


def printable(words: str) -> bool:
    """Return whether nothing in a sentence could upset a screen; spaces of any breadth may stand in names."""
    return all(sign.isprintable() or unicodedata.category(sign) == "Zs" for sign in words)


PLACES = list(places(FULL))


def with_changes(changes: dict[tuple[str | int, ...], object]) -> dict[str, Any]:
    """Return the full file's data with values put in; a way that is no longer there is passed over."""
    data: dict[str, Any] = json.loads(json.dumps(FULL))
    for steps, value in changes.items():
        here: Any = data
        for step in steps[:-1]:
            inside = isinstance(here, dict) and step in here
            inside = inside or (isinstance(here, list) and isinstance(step, int) and step < len(here))
            here = here[step] if inside else None
        if isinstance(here, dict) or (
            isinstance(here, list) and isinstance(steps[-1], int) and steps[-1] < len(here)
        ):
            here[steps[-1]] = copy.deepcopy(value)
    return data


@settings(max_examples=150)
@given(st.dictionaries(st.sampled_from(PLACES), strange, max_size=4))
def test_strange_values_give_findings_and_sentences_but_never_an_exception(
    changes: dict[tuple[str | int, ...], object],
) -> None:
    reading = bracket_of(json.dumps(with_changes(changes)).encode())
    assert all(printable(words) for words in reading.sentences)
    if reading.bracket is None:
        assert reading.findings
        return
    assert all(printable(sentence(finding)) for finding in findings_of(reading.bracket))
    again = bracket_of(bracket_text(reading.bracket).encode())
    assert again.bracket == reading.bracket
    assert again.findings == ()


@settings(max_examples=150)
@given(st.binary(max_size=60), st.integers(0, len(example_bytes())), st.integers(0, 40))
def test_torn_and_spliced_bytes_give_findings_but_never_an_exception(junk: bytes, at: int, lost: int) -> None:
    content = example_bytes()
    reading = bracket_of(content[:at] + junk + content[at + lost :])
    assert reading.bracket is not None or reading.findings
    assert bracket_of(junk).bracket is None


flat = st.tuples(figures.map(float), figures.map(float))
positive = st.floats(1e-3, 1e5)
names = st.text(st.characters(min_codepoint=32, exclude_categories=("C", "Z")), min_size=1, max_size=20)


@given(
    st.lists(
        st.builds(
            lambda name, t, at, d: Plate.model_validate(
                {
                    "name": name,
                    "material": None,
                    "thickness_mm": t,
                    "outline": [{"at_mm": place} for place in at],
                    "openings": [{"kind": "hole", "name": name, "centre_mm": at[0], "diameter_mm": d}],
                }
            ),
            names,
            positive,
            st.lists(flat, min_size=2, max_size=5),
            positive,
        ),
        max_size=3,
    ),
    st.text(st.characters(exclude_categories=("C",)), max_size=50),
)
def test_save_and_open_round_trip(tmp_path_factory: Any, plates: list[Plate], title: str) -> None:  # noqa: ANN401
    path = tmp_path_factory.mktemp("round", numbered=True) / "trip.bracket.json"
    bracket = Bracket(plates=tuple(plates), title=title)
    save_bracket(path, bracket)
    reading = read_bracket(path)
    assert reading.bracket == bracket
    assert reading.findings == ()
    first = path.read_bytes()
    save_bracket(path, bracket)
    assert path.read_bytes() == first  # the same bracket, the same bytes


def test_a_default_written_out_keeps_its_value_when_defaults_change() -> None:
    bolt = bracket_of(example_bytes()).bracket
    assert bolt is not None
    written = json.loads(bracket_text(bolt))["bolts"][0]
    for name in ("thread_friction", "scatter", "face_friction", "washer"):
        assert written[name] == Bolt.model_fields[name].default
