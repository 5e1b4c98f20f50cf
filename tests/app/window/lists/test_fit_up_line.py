"""The note of the fit: taken up in place, typed over, refused in one sentence; and the same in a file."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from app.window.lists.field import Drafts, Line
from app.window.lists.note_lines import note_lines
from app.window.lists.setting import settle
from app.window.lists.typed import typed
from geometry.bracket import Bracket
from geometry.file_validation import validate
from geometry.finding_words import sentence
from geometry.fit_up import FitUp
from tests.brackets import one_piece


def line(bracket: Bracket) -> Line:
    return next(line for line in note_lines(bracket) if line.key == "fit-up")


def put(bracket: Bracket, spoken: str, text: str) -> Bracket:
    field = next(f for f in line(bracket).fields if spoken in f.spoken)
    return settle(bracket, Drafts(), field, typed(field, text, bracket)).bracket


def test_the_fit_is_looked_at_on_a_word_and_its_figures_typed_over() -> None:
    bracket = put(one_piece(), "fit of the pieces", "looked at")
    assert bracket.fit_up == FitUp()
    assert bracket.input_hash() != one_piece().input_hash()
    bracket = put(bracket, "error of a fold", "0.5")
    (marked,) = [field for field in line(bracket).fields if field.usual]
    assert (marked.value, marked.usual, marked.looser) == (0.5, "1", True)
    with pytest.raises(ValidationError):
        put(bracket, "error of a fold", "40")
    assert put(bracket, "fit of the pieces", "not looked at") == one_piece()


def test_a_file_with_an_impossible_fit_is_told_and_bars_a_verdict() -> None:
    data = one_piece().but(fit_up=FitUp()).model_dump(mode="json")
    data["fit_up"]["fold_deg"] = -3
    bracket, findings = validate(data)
    assert bracket is not None
    (finding,) = findings
    assert finding.bars_verdict
    assert "-3" in sentence(finding)
    assert "fold" in sentence(finding)
