"""What stands under the bracket as mounted: choices of the results, and what they do to the view."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QSlider
from pytestqt.qtbot import QtBot

from app.mounted.stands import STANDS, Stand
from app.theme import PAPER
from app.window.mounted_controls import MountedControls
from tests.app.example_results import example_results, with_free_motion


class View:
    """Notes what it is told."""

    def __init__(self) -> None:
        self.playing = False
        self.told: list[tuple[str, object]] = []

    def play(self, on: bool) -> None:
        self.playing = on

    def set_exaggeration(self, factor: float | None) -> None:
        self.told.append(("factor", factor))

    def show_case(self, number: int | None) -> None:
        self.told.append(("case", number))

    def show_forces(self, on: bool) -> None:
        self.told.append(("forces", on))

    def show_map(self, on: bool) -> None:
        self.told.append(("map", on))

    def show_free_motion(self, number: int | None) -> None:
        self.told.append(("motion", number))

    def stand(self, name: Stand) -> None:
        self.told.append(("stand", name))

    def fit(self) -> None:
        self.told.append(("fit", None))

    def unpin(self) -> None:
        self.told.append(("unpin", None))


@pytest.fixture
def row(qtbot: QtBot) -> tuple[MountedControls, View]:
    view = View()
    controls = MountedControls(view, PAPER)
    qtbot.addWidget(controls)
    return controls, view


def test_the_usual_choice_is_written_whole_in_the_narrowest_inset(
    row: tuple[MountedControls, View], qtbot: QtBot
) -> None:
    controls, _ = row
    controls.set_results(example_results(), "ink")
    controls.resize(346, controls.sizeHint().height())  # as wide as it is in a window of 1024 pixels
    controls.show()
    qtbot.waitExposed(controls)
    assert controls._cases.text() == "moves most \u25be"


def test_without_results_there_is_nothing_to_choose(row: tuple[MountedControls, View]) -> None:
    controls, _ = row
    assert controls.case_choices() == []
    assert controls.motion_choices() == []
    assert not controls.findChildren(QSlider)[0].isEnabled()


def test_a_case_is_chosen_and_let_go_with_its_results(row: tuple[MountedControls, View]) -> None:
    controls, view = row
    controls.set_results(example_results(), "ink")
    cases = controls.case_choices()
    assert cases[0].is_taken
    controls.set_case(cases[1].argument)
    assert view.told[-1] == ("case", 0)
    assert controls.case_choices()[1].is_taken
    controls.set_results(replace(example_results(), cases=()), "ink")
    assert controls.case_choices() == []


def test_a_free_motion_swings_until_the_deflection_is_asked_for(row: tuple[MountedControls, View]) -> None:
    controls, view = row
    results = with_free_motion(example_results())
    controls.set_results(results, "ink")
    controls.show_motion(results.free_motions[0])
    assert (view.told[-1], view.playing) == (("motion", 0), True)
    controls.show_motion(None)
    assert (view.told[-1], view.playing) == (("motion", None), False)


def test_true_scale_is_pressed_and_let_go(row: tuple[MountedControls, View]) -> None:
    controls, view = row
    controls.set_results(example_results(), "ink")
    controls.true_scale()
    assert (view.told[-1], controls.is_true_scale()) == (("factor", 1.0), True)
    controls.true_scale()
    assert (view.told[-1], controls.is_true_scale()) == (("factor", None), False)


def test_the_slider_gives_two_digits_and_its_end_the_most(row: tuple[MountedControls, View]) -> None:
    controls, view = row
    controls.set_results(example_results(), "ink")
    slider = controls.findChildren(QSlider)[0]
    slider.setValue(slider.maximum())
    assert view.told[-1] == ("factor", 5000.0)
    slider.setValue(slider.maximum() // 2)
    assert view.told[-1] == ("factor", 71.0)
    slider.setValue(0)
    assert view.told[-1] == ("factor", None)


def test_map_forces_and_stands(row: tuple[MountedControls, View]) -> None:
    controls, view = row
    controls.stress_map()
    controls.forces()
    controls.set_stand(STANDS[1])
    assert view.told == [("map", False), ("forces", True), ("stand", STANDS[1])]
    assert not controls.has_map()
    assert controls.has_forces()
