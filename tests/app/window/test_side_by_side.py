"""The page Side by side, driven by mouse and keys, with results of the tests' own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QPoint, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.editing.variants import with_variant
from app.files.settings import Settings
from app.theme import SLATE
from app.window.beside.beside_judge import BesideJudge, StillBesideJudge
from app.window.main_window import PAGES, MainWindow
from app.window.side_by_side_page import INVITATION, SideBySidePage
from app.window.still_judge import StillJudge
from app.worker.client import Worker
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from solver.results import Results, Verdict
from tests.app.example_results import example_results, with_free_motion
from tests.app.mounted import solved_example
from tests.app.window.shown import Answers
from tests.app.worker.stand_ins import KILLS, serve, with_couple

BESIDE = [page.words for page in PAGES].index("Side by side")


class Desk:
    """A window with the page on top."""

    def __init__(
        self, window: MainWindow, answers: Answers, judge: StillJudge, beside: StillBesideJudge
    ) -> None:
        self.window, self.answers, self.judge, self.beside = window, answers, judge, beside

    @property
    def page(self) -> SideBySidePage:
        return self.window.beside

    def put(self, bracket: Bracket) -> None:
        self.window.files.put(bracket, "car")

    def turn(self) -> None:
        self.window.edges.turn_to(BESIDE)

    def ink(self, results: Results) -> None:
        self.judge.ink.emit(results)

    @property
    def sentence(self) -> str:
        return self.page._sentence.text()


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    judge, answers, beside = StillJudge(), Answers(), StillBesideJudge()
    window = MainWindow(Settings(), judge, answers, beside=beside)
    window.resize(1280, 720)
    window.show()
    window.verdicts.begin()
    yield Desk(window, answers, judge, beside)
    window.close()
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def thin(bracket: Bracket) -> Bracket:
    return bracket.with_plate(bracket.plates[0].but(thickness_mm=4.0))


def results_of(bracket: Bracket, verdict: Verdict = "pass") -> Results:
    """Return results with fields and cases where the bracket is the solved example, else without."""
    own = solved_example.bracket()
    if bracket.input_hash() == own.input_hash():
        return replace(solved_example.results(), verdict=verdict, free_motions=())
    return replace(example_results(verdict), hash=bracket.input_hash(), plates=(), cases=())


def with_thin() -> Bracket:
    bracket = solved_example.bracket()
    return with_variant(bracket, "thin", thin(bracket))


def test_alone_it_invites_to_lay_something_beside(desk: Desk) -> None:
    desk.put(solved_example.bracket())
    desk.turn()
    assert desk.sentence == INVITATION
    assert len(desk.page.panes) == 1
    assert not desk.page.panes[0].go.isVisible()
    assert desk.beside.wanted == ()


def test_variants_lie_there_from_the_start_and_are_judged_in_the_background(desk: Desk) -> None:
    desk.put(with_thin())
    desk.turn()
    assert [one.name for one in desk.page.comparison.judged] == ["this bracket", "thin"]
    assert [b.plates[0].thickness_mm for b in desk.beside.wanted] == [4.0]
    assert "None is called better" in desk.sentence
    bracket = desk.window.door.bracket
    desk.ink(results_of(bracket))
    other = desk.beside.wanted[0]
    desk.beside.judged.emit(replace(results_of(other, "fail"), reasons=("turn uses 200%",)), True)
    assert "pencil" in desk.sentence
    assert desk.page.panes[1].stamp.told == "No verdict yet: the figures so far are pencil"
    desk.beside.judged.emit(with_free_motion(results_of(other)), False)
    assert desk.sentence.startswith("This bracket is better: it passes")
    assert "nothing but friction stops it" in desk.sentence
    assert [p.stamp.told for p in desk.page.panes] == ["Verdict: pass", "Verdict: fail"]
    text = desk.page.figures.toPlainText()
    assert "holds to" in text
    assert "71.3" in text
    assert "thickness of plate: 6 mm in this bracket, 4 mm in thin" in desk.page.differences.toPlainText()
    assert "swings sideways" in desk.page.differences.toPlainText()


def test_a_change_of_the_bracket_is_followed(desk: Desk, qtbot: QtBot) -> None:
    desk.put(with_thin())
    desk.turn()
    desk.ink(results_of(desk.window.door.bracket))
    assert desk.page.panes[0].stamp.told == "Verdict: pass"
    desk.window.door.attempt("thicker", lambda b: b.with_plate(b.plates[0].but(thickness_mm=8.0)))
    qtbot.waitUntil(lambda: desk.page.panes[0].stamp.told == "No verdict")
    assert "8 mm in this bracket" in desk.page.differences.toPlainText()


def test_files_and_the_sawn_twin_are_added_and_taken_away_by_hand(
    desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    desk.put(solved_example.bracket())
    desk.turn()
    path = tmp_path / "theirs.bracket.json"
    save_bracket(path, thin(solved_example.bracket()))
    desk.answers.open = path
    _, file, sawn = desk.page._links
    qtbot.mouseClick(file, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(sawn, Qt.MouseButton.LeftButton)
    assert [p.stamp.isVisible() for p in desk.page.panes] == [True] * 3
    assert [one.name for one in desk.page.comparison.judged] == ["this bracket", "theirs", "its sawn twin"]
    assert [len(b.plates) for b in desk.beside.wanted] == [1, 2]
    qtbot.mouseClick(sawn, Qt.MouseButton.LeftButton)
    assert "there already" in desk.page.said.sentence
    qtbot.mouseClick(desk.page.panes[1].go, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: len(desk.page.panes) == 2)
    assert [one.name for one in desk.page.comparison.judged] == ["this bracket", "its sawn twin"]


def test_a_fifth_is_refused_and_a_bad_file_named(desk: Desk, tmp_path: Path) -> None:
    bracket = solved_example.bracket()
    for number in range(3):
        bracket = with_variant(bracket, f"layout {number}", thin(solved_example.bracket()))
    desk.put(bracket)
    desk.turn()
    assert len(desk.page.panes) == 4
    desk.page.add_sawn_twin()
    assert "At most 4" in desk.page.said.sentence
    bad = tmp_path / "bad.bracket.json"
    bad.write_text("{")
    desk.answers.open = bad
    desk.page.take_away(desk.page.chosen.others[0])
    desk.page.add_file()
    assert "bad.bracket.json cannot be laid beside it" in desk.page.said.sentence
    assert len(desk.page.panes) == 3


def test_an_analysis_that_fails_is_told_in_its_pane(desk: Desk) -> None:
    desk.put(with_thin())
    desk.turn()
    desk.ink(results_of(desk.window.door.bracket))
    desk.beside.failed.emit(desk.beside.wanted[0].input_hash(), "The mesh cannot be made.")
    assert "thin has no verdict (The mesh cannot be made)" in desk.sentence


def test_views_turn_zoom_and_swing_together_at_one_factor(desk: Desk, qtbot: QtBot) -> None:
    desk.put(with_thin())
    desk.turn()
    first, second = (pane.view for pane in desk.page.panes)
    assert first.scene.camera.mm_per_px == second.scene.camera.mm_per_px
    qtbot.mousePress(first, Qt.MouseButton.LeftButton, pos=QPoint(100, 100))
    qtbot.mouseMove(first, QPoint(160, 130))
    qtbot.mouseRelease(first, Qt.MouseButton.LeftButton, pos=QPoint(160, 130))
    assert first.scene.camera.azimuth_deg != -32.0
    assert second.scene.camera.azimuth_deg == first.scene.camera.azimuth_deg
    second.setFocus()
    qtbot.keyClick(second, Qt.Key.Key_Plus)
    qtbot.keyClick(second, Qt.Key.Key_Left)
    one, other = first.scene.camera, second.scene.camera
    assert (one.azimuth_deg, one.mm_per_px, one.centre_mm) == (
        other.azimuth_deg,
        other.mm_per_px,
        other.centre_mm,
    )
    turned = one.azimuth_deg
    desk.ink(results_of(desk.window.door.bracket))
    assert first.scene.camera.azimuth_deg == turned, "results must not turn the view back"
    qtbot.keyClick(second, Qt.Key.Key_Home)
    assert first.scene.camera.mm_per_px == second.scene.camera.mm_per_px != one.mm_per_px
    desk.page.together.set_exaggeration(40.0)
    assert first.scene.factor == 40.0
    desk.page.controls.play_or_rest()
    assert [first.playing, second.playing] == [True, True]
    assert first._swing_from == second._swing_from
    desk.page.controls.play_or_rest()
    assert [first.playing, second.playing] == [False, False]


def test_every_part_is_reached_by_the_keyboard(desk: Desk, qtbot: QtBot) -> None:
    desk.put(with_thin())
    desk.turn()
    desk.ink(results_of(desk.window.door.bracket))
    desk.window.activateWindow()
    desk.page._links[0].setFocus()
    seen = []
    for _ in range(40):
        widget = QApplication.focusWidget()
        if widget is None or widget in seen:
            break
        seen.append(widget)
        qtbot.keyClick(widget, Qt.Key.Key_Tab)
    page = desk.page
    for part in (
        *page._links,
        page.panes[0].view,
        page.panes[1].go,
        page.panes[1].view,
        page.figures,
        page.differences,
    ):
        assert part in seen
    assert all(w.accessibleName() or w.accessibleDescription() or getattr(w, "text", str)() for w in seen)


def _lightest(widget: QWidget) -> int:
    """Return how light the lightest pixel of a widget is drawn, of 255."""
    image = widget.grab().toImage()
    return max(
        image.pixelColor(x, y).lightness() for x in range(image.width()) for y in range(image.height())
    )


def test_at_1280_by_720_nothing_is_cut_and_both_looks_are_taken(desk: Desk) -> None:
    desk.put(with_thin())
    desk.turn()
    desk.window.seeing.set_theme("slate")
    page = desk.page
    assert desk.window.size().width() == 1280
    assert desk.window.size().height() == 720
    assert page.panes[0].view.height() > 150
    assert page.figures.height() > 120
    assert {pane.view.scene.theme.name for pane in page.panes} == {"slate"}
    assert page.panes[0]._words.text
    chalk = QColor(SLATE.pencil).lightness()
    assert all(_lightest(pane._words) > 0.9 * chalk for pane in page.panes)
    right = max(p.mapTo(desk.window, QPoint(p.width(), 0)).x() for p in page.panes)
    assert right <= desk.window.width()


def test_turned_away_from_nothing_is_judged_and_another_file_clears_what_was_chosen(desk: Desk) -> None:
    desk.put(with_thin())
    desk.turn()
    assert desk.beside.wanted
    desk.window.edges.turn_to(0)
    assert desk.beside.wanted == ()
    desk.put(solved_example.bracket())
    desk.turn()
    assert len(desk.page.panes) == 1


def test_the_judge_asks_for_one_after_another_and_remembers(qtbot: QtBot) -> None:
    judge = BesideJudge(worker=Worker(serve))
    told: list[tuple[float | None, bool]] = []
    failed: list[str] = []
    judge.judged.connect(lambda results, pencil: told.append((results.couple_nm, pencil)))
    judge.failed.connect(lambda key, words: failed.append(words))
    try:
        judge.want([with_couple(20.0), with_couple(KILLS), with_couple(21.0)])
        qtbot.waitUntil(lambda: (21.0, False) in told, timeout=60_000)
        assert told[:2] == [(20.0, True), (20.0, False)]
        assert len(failed) == 1
        assert not judge.busy
        told.clear()
        judge.want([with_couple(21.0), with_couple(20.0)])
        assert told == [(21.0, False), (20.0, False)]
        assert not judge.busy
    finally:
        judge.stop()


def test_in_inches_verdict_sentence_and_maps_are_told_in_inches(desk: Desk) -> None:
    desk.put(with_thin())
    desk.turn()
    for laid in desk.page._laid:
        desk.beside.judged.emit(results_of(laid.layout.bracket), False)
    desk.window.seeing.set_units("inch")
    for pane in desk.page.panes:
        assert "lbf.ft" in pane._words.text
        assert "MPa" not in pane.view.scene.words()
    assert "ksi" in desk.page.panes[0].view.scene.words()
    desk.window.seeing.set_units("mm")
    assert all("lbf" not in pane._words.text for pane in desk.page.panes)
