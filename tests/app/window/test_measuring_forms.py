"""The forms for what is measured: bare figures are of the units that are shown, and nothing is guessed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from app.theme import PAPER
from app.window.door import Door
from app.window.forms.callipers_form import CallipersForm
from app.window.forms.dash_bar_form import DashBarForm
from app.window.forms.form import Form
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.fixing import RoundTube
from tests.app.window.flat_hands import SAMPLES


def _fill(form: Form, typed: dict[str, str]) -> None:
    for entry in form.findChildren(QLineEdit):
        if entry.accessibleName() in typed:
            entry.setText(typed[entry.accessibleName()])


CASING = {
    "shaft to A": "2",
    "shaft to B": "2",
    "shaft to C": "2",
    "A to B": "3.464",
    "A to C": "3.464",
    "B to C": "88 mm",
    "boss face across": "1",
    "casing across": "5",
    "casing high": "4 3/4",
    "casing along the shaft": "5 1/4",
    "thread": "M10",
    "casing's mass": "5 kg",
}


def test_callipers_read_bare_figures_in_inches_where_inches_are_shown(qtbot: QtBot) -> None:
    door = Door(Bracket())
    form = CallipersForm(door, PAPER, inch=True)
    qtbot.addWidget(form)
    _fill(form, CASING)
    assert form.is_done(), form.sentence
    casing = door.bracket.casing
    assert casing is not None
    assert casing.bosses[0].at_mm[1] == pytest.approx(50.8, abs=0.1)
    assert casing.bosses[0].face_diameter_mm == pytest.approx(25.4)
    again = CallipersForm(door, PAPER, inch=True)
    qtbot.addWidget(again)
    assert again.is_done(), again.sentence
    casing = door.bracket.casing
    assert casing is not None
    assert casing.bosses[0].at_mm[1] == pytest.approx(50.8, abs=0.1)


@pytest.mark.parametrize("file", sorted(SAMPLES.glob("*.bracket.json")), ids=lambda file: file.name[:-13])
def test_a_casing_put_in_as_it_is_offered_is_the_casing_that_was_there(file: Path, qtbot: QtBot) -> None:
    """Its mass lies where it was measured, bosses one behind the other too, and a name may have a comma."""
    bracket = read_bracket(file).bracket
    assert bracket is not None
    door = Door(bracket)
    form = CallipersForm(door, PAPER)
    qtbot.addWidget(form)
    assert form.is_done(), form.sentence
    casing, before = door.bracket.casing, bracket.casing
    assert casing is not None
    assert before is not None
    assert [boss.name for boss in casing.bosses] == [boss.name for boss in before.bosses]
    for boss, old in zip(casing.bosses, before.bosses, strict=True):
        assert boss.at_mm == pytest.approx(old.at_mm, abs=0.02)
    assert (casing.envelope, casing.mass_centre_mm) == (before.envelope, before.mass_centre_mm)


def test_callipers_name_the_measure_that_cannot_be_read(qtbot: QtBot) -> None:
    form = CallipersForm(Door(Bracket()), PAPER)
    qtbot.addWidget(form)
    _fill(form, CASING | {"casing high": "tall"})
    assert not form.is_done()
    assert form.sentence.startswith("casing high: 'tall' is not a quantity")


def test_the_ends_of_a_dash_bar_are_chosen_by_somebody(qtbot: QtBot) -> None:
    door = Door(Bracket())
    form = DashBarForm(door, PAPER, inch=True)
    qtbot.addWidget(form)
    _fill(
        form,
        {
            "between its ends": "48",
            "middle of the bar above the shaft axis": "4",
            "toward the driver from the boss faces": "-30 mm",
            "tube": "1 1/2 x 0.1",
            "its material": "S235",
            "seen by": "the builder",
        },
    )
    assert not form.is_done()
    assert form.sentence == "both ends are blank: look how they are held, and choose"
    form.findChildren(QComboBox)[0].setCurrentText("pinned")
    assert form.is_done(), form.sentence
    bar = door.bracket.dash_bar
    assert bar is not None
    assert bar.to_mm == pytest.approx((609.6, 101.6, -30.0))
    assert isinstance(bar.section, RoundTube)
    assert bar.section.outer_mm == pytest.approx(38.1)
    assert [end.kind for end in bar.ends] == ["pinned", "pinned"]


@pytest.mark.parametrize(("inch", "unit"), [(False, "mm"), (True, "in")])
def test_an_entry_of_the_dash_bar_hints_at_a_value_in_the_units_it_is_read_in(
    inch: bool, unit: str, qtbot: QtBot
) -> None:
    door = Door(Bracket())
    form = DashBarForm(door, PAPER, inch=inch)
    qtbot.addWidget(form)
    entries = {entry.accessibleName(): entry for entry in form.findChildren(QLineEdit)}
    for words in ("between its ends", "middle of the bar above the shaft axis", "tube"):
        hint = entries[words].placeholderText()
        assert hint.endswith(f" {unit}")
        # what the hint shows can be typed as it stands
        entries[words].setText(hint.removeprefix("such as ").rpartition(" or ")[2])
    _fill(form, {"toward the driver from the boss faces": "-30 mm", "its material": "S235", "seen by": "me"})
    form.findChildren(QComboBox)[0].setCurrentText("pinned")
    assert form.is_done(), form.sentence
