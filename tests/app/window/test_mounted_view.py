from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.mounted.frame import Frame, Image
from app.mounted.probe import SENTENCE
from app.mounted.still import Still
from app.theme import PAPER, SLATE
from app.window.mounted_painting import Painting
from app.window.mounted_view import MountedView
from tests.app.mounted.solved_example import bracket, results


class Counting:
    """Paints only the ground, and counts."""

    def __init__(self) -> None:
        self.sizes: list[tuple[int, int]] = []

    def paint(self, frame: Frame, scale: float, *, draft: bool = False) -> Image:
        width, height = (round(side * scale) for side in frame.camera.size_px)
        self.sizes.append((width, height))
        image = np.empty((height, width, 3), dtype=np.uint8)
        image[:] = frame.ground
        return image


@pytest.fixture
def counting() -> Counting:
    return Counting()


@pytest.fixture
def view(qtbot: QtBot, counting: Counting) -> Iterator[MountedView]:
    """A shown view of the solved example, with a painter that only counts."""
    painting = Painting()
    painting.painter, painting.fast = counting, True
    made = MountedView(painting=painting)
    qtbot.addWidget(made)
    made.resize(500, 320)
    made.set_bracket(bracket())
    made.set_results(results(), pencil=False)
    made.set_exaggeration(0.0)
    with qtbot.waitSignal(made.painted):
        made.show()
    yield made
    made.play(on=False)


def at(view: MountedView, place: tuple[float, float, float]) -> QPoint:
    x, y, _ = view.scene.camera.project(np.array(place))[0]
    return QPoint(round(float(x)), round(float(y)))


def settle(qtbot: QtBot, view: MountedView) -> None:
    with qtbot.waitSignal(view.painted):
        view.ask()


def test_importing_the_window_brings_in_no_3d_library() -> None:
    program = (
        "import sys, app.window.mounted_view\n"
        "raise SystemExit(any(name.split('.')[0] in ('vtkmodules', 'matplotlib') for name in sys.modules))"
    )
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    assert subprocess.run([sys.executable, "-c", program], env=environment, check=False).returncode == 0


def test_a_click_on_a_bolt_picks_it_and_beside_all_nothing(qtbot: QtBot, view: MountedView) -> None:
    view.stand("square to the plate")
    with qtbot.waitSignal(view.picked) as clicked:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=at(view, (0.0, -36.0, 12.0)))
    assert clicked.args == ["bolt", "3"]
    with qtbot.waitSignal(view.picked) as clicked:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(2, 318))
    assert clicked.args == ["", ""]


def test_the_pointer_over_the_plate_is_told_the_stress(qtbot: QtBot, view: MountedView) -> None:
    view.stand("square to the plate")
    with qtbot.waitSignal(view.hovered) as said:
        qtbot.mouseMove(view, at(view, (50.0, 0.0, 6.0)))
    found = view.scene.pick(*at(view, (50.0, 0.0, 6.0)).toTuple())
    assert found is not None
    assert said.args == [f"plate: {found.value:.3g} MPa"]


def test_a_drag_turns_and_one_with_shift_or_the_right_button_moves(qtbot: QtBot, view: MountedView) -> None:
    def drag(button: Qt.MouseButton, keys: Qt.KeyboardModifier) -> tuple[bool, bool]:
        before = view.scene.camera
        picks: list[str] = []
        view.picked.connect(picks.append)
        qtbot.mousePress(view, button, keys, QPoint(100, 100))
        # QTest gives no keys to a move; the event is sent by hand.
        for x in (120, 150, 180):
            _move(view, QPoint(x, 110), button, keys)
        qtbot.mouseRelease(view, button, keys, QPoint(180, 110))
        assert picks == []
        after = view.scene.camera
        return after.azimuth_deg != before.azimuth_deg, after.centre_mm != before.centre_mm

    none, shift = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
    assert drag(Qt.MouseButton.LeftButton, none) == (True, False)
    assert drag(Qt.MouseButton.LeftButton, shift) == (False, True)
    assert drag(Qt.MouseButton.RightButton, none) == (False, True)


def _move(view: MountedView, to: QPoint, button: Qt.MouseButton, keys: Qt.KeyboardModifier) -> None:
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QMouseEvent

    place = QPointF(to)
    event = QMouseEvent(
        QEvent.Type.MouseMove, place, view.mapToGlobal(place), Qt.MouseButton.NoButton, button, keys
    )
    QApplication.sendEvent(view, event)


def test_the_wheel_zooms_at_the_pointer(view: MountedView) -> None:
    place = QPointF(120.0, 90.0)
    under = view.scene.camera.at_px(120.0, 90.0)
    before = view.scene.camera.mm_per_px
    event = QWheelEvent(
        place,
        view.mapToGlobal(place),
        QPoint(),
        QPoint(0, 240),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, event)
    assert view.scene.camera.mm_per_px == pytest.approx(before / 1.44)
    assert view.scene.camera.project(under)[0, :2] == pytest.approx([120.0, 90.0])


def test_keys_turn_move_zoom_and_fit(qtbot: QtBot, view: MountedView) -> None:
    fitted = view.scene.camera
    qtbot.keyClick(view, Qt.Key.Key_Left)
    qtbot.keyClick(view, Qt.Key.Key_Down)
    turned = view.scene.camera
    assert (turned.azimuth_deg, turned.elevation_deg) == (
        pytest.approx(fitted.azimuth_deg + 10.0),
        pytest.approx(fitted.elevation_deg + 10.0),
    )
    qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert view.scene.camera.centre_mm != turned.centre_mm
    qtbot.keyClick(view, Qt.Key.Key_Plus)
    assert view.scene.camera.mm_per_px == pytest.approx(turned.mm_per_px / 1.2)
    qtbot.keyClick(view, Qt.Key.Key_Minus)
    assert view.scene.camera.mm_per_px == pytest.approx(turned.mm_per_px)
    qtbot.keyClick(view, Qt.Key.Key_Home)
    assert view.scene.camera.azimuth_deg == turned.azimuth_deg
    seen = view.scene.camera.project(_fitted(view))[:, :2]
    middle = (seen.min(axis=0) + seen.max(axis=0)) / 2.0
    # Below the words at the top.
    assert middle[0] == pytest.approx(250.0)
    assert 160.0 < middle[1] < 190.0
    assert (seen > 0.0).all()
    assert (seen < [500.0, 320.0]).all()


def _fitted(view: MountedView) -> np.ndarray:
    return view.scene._shapes.points(("plate", "casing", "bolt", "boss", "anchor"))


def test_nothing_is_painted_unless_something_changed(
    qtbot: QtBot, view: MountedView, counting: Counting
) -> None:
    settle(qtbot, view)
    before = len(counting.sizes)
    for _ in range(5):
        view.repaint()
    qtbot.wait(250)
    assert len(counting.sizes) == before
    view.set_results(results(), pencil=False)
    qtbot.wait(250)
    assert len(counting.sizes) == before
    view.set_selected("bolt", "3")
    view.set_selected("bolt", "2")
    qtbot.waitUntil(lambda: len(counting.sizes) == before + 1)
    view.set_results(results(), pencil=True)
    qtbot.waitUntil(lambda: len(counting.sizes) == before + 2)


def test_a_slow_picture_is_coarse_while_it_turns_and_fine_after(
    qtbot: QtBot, view: MountedView, counting: Counting
) -> None:
    settle(qtbot, view)
    view._seconds = 0.2
    counting.sizes.clear()
    with qtbot.waitSignal(view.painted):
        qtbot.keyClick(view, Qt.Key.Key_Left)
    assert counting.sizes[0] == (250, 160)
    assert counting.sizes[-1] == (500, 320)


def test_a_larger_scale_draws_larger_words_in_as_many_pixels(
    qtbot: QtBot, view: MountedView, counting: Counting
) -> None:
    view.set_scale(2.0)
    settle(qtbot, view)
    assert view.scene.camera.size_px == (250, 160)
    assert counting.sizes[-1] == (500, 320)


def test_it_swings_about_once_a_second_and_comes_to_rest_fully_moved(qtbot: QtBot, view: MountedView) -> None:
    view.set_exaggeration(None)
    view.play(on=True)
    seen: list[float] = []
    for _ in range(20):
        qtbot.wait(60)
        seen.append(view.scene._now() / view.scene.factor)
    view.play(on=False)
    assert max(seen) > 0.7
    assert min(seen) < -0.7
    assert not view.playing
    assert view.scene._now() == pytest.approx(view.scene.factor)


def test_a_hidden_view_stops_swinging(view: MountedView) -> None:
    view.play(on=True)
    view.hide()
    assert not view.playing


def test_a_label_left_by_a_double_click_stays(qtbot: QtBot, view: MountedView) -> None:
    from app.mounted.overlay import Words

    view.stand("square to the plate")
    qtbot.mouseDClick(view, Qt.MouseButton.LeftButton, pos=at(view, (50.0, 0.0, 6.0)))
    view.scene.stand("from below")
    labels = [w.words for w in view.scene.items() if isinstance(w, Words)]
    assert any(words.startswith("plate: ") for words in labels)


def test_focus_is_seen_and_the_view_has_a_name_and_says_what_it_shows(
    qtbot: QtBot, view: MountedView
) -> None:
    view.setFocus()
    view.activateWindow()
    qtbot.waitUntil(view.hasFocus)
    settle(qtbot, view)
    assert _has(view, PAPER.accent)
    view.clearFocus()
    settle(qtbot, view)
    assert not _has(view, PAPER.accent)
    assert view.accessibleName() == "The bracket as mounted"
    assert view.scene.words() in view.accessibleDescription()


def _has(view: MountedView, colour: str) -> bool:
    image = view.grab().toImage()
    row = [image.pixelColor(x, 2) for x in range(image.width())]
    return QColor(colour) in row


def test_slate_is_painted_on_slate(qtbot: QtBot, view: MountedView) -> None:
    view.set_theme(SLATE)
    settle(qtbot, view)
    assert view.grab().toImage().pixelColor(490, 20) == QColor(SLATE.ground)


def test_before_a_painter_is_found_there_is_a_sketch_then_the_picture(qtbot: QtBot) -> None:
    view = MountedView()
    qtbot.addWidget(view)
    view.resize(300, 200)
    view.set_bracket(bracket())
    with qtbot.waitSignal(view.painted, timeout=60_000):
        view.show()
        qtbot.wait(30)
        sketch = view.grab().toImage()
        colours = {sketch.pixelColor(x, 100).name() for x in range(300)}
        assert len(colours) > 3
        assert view.painting.painter is None
    assert view.painting.fast
    assert _has_fill(view, PAPER.plate)


def _has_fill(view: MountedView, colour: str) -> bool:
    image, wanted = view.grab().toImage(), QColor(colour)
    for y in range(0, image.height(), 3):
        for x in range(0, image.width(), 3):
            seen = image.pixelColor(x, y)
            off = max(abs(a - b) for a, b in zip(seen.toTuple(), wanted.toTuple(), strict=True))
            if 0 < off < 12 and seen != QColor(PAPER.ground):
                return True
    return False


def test_without_opengl_there_is_a_still_picture_and_a_sentence(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    view = MountedView(painting=Painting(trial=os.abort))
    qtbot.addWidget(view)
    view.resize(300, 200)
    view.set_bracket(bracket())
    with qtbot.waitSignal(view.painted, timeout=60_000):
        view.show()
    assert isinstance(view.painting.painter, Still)
    assert not view.painting.fast
    assert SENTENCE in view.accessibleDescription()
    # While it is turned there is a sketch, and the picture when it rests.
    with qtbot.waitSignal(view.painted):
        qtbot.keyClick(view, Qt.Key.Key_Left)
        qtbot.wait(20)
        assert view._image is None
    assert view._image is not None
