"""The catalogue of sentences: each is used, and each says where, what and what to do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import geometry
from geometry.finding import Finding, worst_first
from geometry.finding_words import LONGEST_VALUE, MOST_FINDINGS, WORDS, fewer, found, sentence
from geometry.words_file import FILE_WORDS
from tests.geometry import (
    test_findings_bolt_faces,
    test_findings_bolts,
    test_findings_casing,
    test_findings_column,
    test_findings_fatigue,
    test_findings_holes,
    test_findings_loads,
    test_findings_overlap,
    test_findings_shape,
    test_findings_threads,
    test_findings_weld_bolts,
    test_findings_welds,
)

CASES = [
    case
    for module in (
        test_findings_shape,
        test_findings_bolts,
        test_findings_bolt_faces,
        test_findings_holes,
        test_findings_casing,
        test_findings_column,
        test_findings_loads,
        test_findings_fatigue,
        test_findings_overlap,
        test_findings_threads,
        test_findings_weld_bolts,
        test_findings_welds,
    )
    for case in module.CASES
]


def test_every_finding_on_a_bracket_has_a_case_that_provokes_it() -> None:
    assert {case.code for case in CASES} == set(WORDS) - set(FILE_WORDS)


def test_every_finding_on_a_file_is_tried() -> None:
    here = Path(__file__).parent
    app = here.parent / "app"
    beside = (app / "files" / "test_autosave.py", *(app / "report").glob("test_*.py"))
    places = (here / "test_bracket_file.py", *beside)
    tried = "".join(place.read_text(encoding="utf-8") for place in places)
    assert {code for code in FILE_WORDS if f'"{code}"' not in tried} <= {"more-of-the-kind"}


def test_every_code_the_program_gives_is_in_the_catalogue() -> None:
    folder = Path(geometry.__file__).parent
    given = {
        code
        for path in folder.glob("*.py")
        if not path.name.startswith("words_")
        for code in re.findall(r'found\(\s*"([a-z0-9-]+)"', path.read_text(encoding="utf-8"))
    }
    assert given
    assert given <= set(WORDS)


@pytest.mark.parametrize("code", sorted(WORDS))
def test_a_sentence_says_what_and_the_next_step(code: str) -> None:
    severity, words = WORDS[code]
    assert severity in ("stop", "doubt", "rule", "note")
    if words not in ("{reason}", "{found}; {next_step}"):
        assert re.search(r"[;,:] ?", words), "a sentence names the thing and then the next step"
    assert not words.endswith(".")
    assert code.startswith("blank-") <= (severity == "doubt")


def test_text_from_a_file_cannot_draw_or_flood() -> None:
    words = sentence(
        found(
            "bolt-hole-missing", "bolt \x1b[2J\n", name="x" * 9000, plate="{0.__class__}", near="", known=""
        )
    )
    assert words.isprintable()
    assert len(words) < 2 * LONGEST_VALUE + 200
    assert "{0.__class__}" in words


def test_a_long_value_is_cut_to_the_longest_that_is_shown() -> None:
    for letters in (LONGEST_VALUE - 1, LONGEST_VALUE, LONGEST_VALUE + 1, 9000):
        words = sentence(Finding("from-a-later-program", "doubt", "plate main", {"name": "x" * letters}))
        shown = words.removeprefix("plate main: from-a-later-program (name ").removesuffix(")")
        assert len(shown) == min(letters, LONGEST_VALUE)
        assert shown.endswith("...") is (letters > LONGEST_VALUE)


def test_a_code_that_is_not_in_the_catalogue_is_still_told() -> None:
    words = sentence(Finding("from-a-later-program", "doubt", "plate main", {"size_mm": 3}))
    assert words == "plate main: from-a-later-program (size_mm 3)"
    with pytest.raises(KeyError):
        found("no-such-code", "file")


def test_what_is_blank_is_told_from_what_is_wrong() -> None:
    assert found("blank-rake", "bracket").is_blank is True
    assert found("no-bolts", "bracket").is_blank is False


def test_worst_come_first_and_each_once() -> None:
    note, stop = found("stiffness-zero", "bearing a"), found("no-bolts", "bracket")
    doubt = found("blank-rake", "bracket")
    assert worst_first((note, doubt, stop, note, doubt)) == (stop, doubt, note)
    assert hash(note) != hash(stop)


@pytest.mark.parametrize(
    ("where", "begins"),
    [
        ("plate plate a, hole hole 4", "plate a, hole 4: "),
        ("plate plate", "plate: "),
        ("plate plated", "plate plated: "),
        ("bolt 1", "bolt 1: "),
    ],
)
def test_what_is_named_after_its_kind_is_called_once(where: str, begins: str) -> None:
    assert sentence(found("no-plates", where)).startswith(begins)


def test_what_bars_a_verdict_is_listed_however_many_notes_of_its_kind_go_before() -> None:
    """Sixty words that enter no result, all wrong, hid that a figure after them was left out."""
    notes = [found("wrong-type", f"stay {n}", severity="note", value=n, wanted="text") for n in range(70)]
    doubt = found("wrong-type", "loads", value='"2"', wanted="a number")
    listed = fewer([*notes, doubt], "file")
    assert doubt in listed
    assert len(listed) == MOST_FINDINGS + 1
    assert [f.values["count"] for f in listed if f.code == "more-of-the-kind"] == [71 - MOST_FINDINGS]
