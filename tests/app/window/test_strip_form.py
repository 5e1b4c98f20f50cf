"""K from a bent test strip, typed into its form."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.forms.strip_form import StripForm
from geometry.bend_allowance import k_factor
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket

SAMPLE = Path(__file__).parents[3] / "sample_brackets" / "marlpit_one_piece.bracket.json"


@pytest.fixture
def form(qtbot: QtBot) -> StripForm:
    bracket = read_bracket(SAMPLE).bracket
    assert bracket is not None
    made = StripForm(Door(bracket), PAPER)
    qtbot.addWidget(made)
    made.show()
    return made


def fill(qtbot: QtBot, form: StripForm, *typed: str) -> None:
    entries = form.findChildren(QLineEdit)
    for entry, text in zip(entries, typed, strict=False):
        entry.clear()
        qtbot.keyClicks(entry, text)


# 3 mm sheet, inside radius 3, square: flat = 50 + 60 - 2 (r + s) + pi/2 (r + k s), with the k of DIN 6935
K = k_factor(3.0, 3.0)
FLAT = 110.0 - 12.0 + 1.5707963 * (3.0 + K * 3.0)


def test_a_strip_bent_as_din_6935_says_gives_its_k(qtbot: QtBot, form: StripForm) -> None:
    fill(qtbot, form, f"{FLAT:.3f}", "50", "6 cm", "3", "3 mm")
    assert f"K {K:.2f}" in form.sentence
    form.finish()
    folds = [fold for plate in form._door.bracket.plates for fold in plate.folds]
    assert folds
    assert all(fold.k_factor == pytest.approx(K, abs=1e-3) for fold in folds)
    assert form._door.steps.undoText() == f"K {folds[0].k_factor:g} from a test strip"


def test_what_is_missing_or_impossible_is_said_and_nothing_is_changed(qtbot: QtBot, form: StripForm) -> None:
    before = form._door.bracket
    form.finish()
    assert form.sentence.startswith("length before bending is blank")
    fill(qtbot, form, "200", "50", "60", "3", "3")
    assert "the neutral line cannot lie outside the sheet" in form.sentence
    fill(qtbot, form, "1,500", "50", "60", "3", "3")
    form.finish()
    assert form._door.bracket is before


def test_without_a_fold_k_is_told_and_put_nowhere(qtbot: QtBot) -> None:
    form = StripForm(Door(Bracket()), PAPER)
    qtbot.addWidget(form)
    fill(qtbot, form, f"{FLAT:.3f}", "50", "60", "3", "3")
    form.finish()
    assert "There is no fold to put it at" in form.sentence
