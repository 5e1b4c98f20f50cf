"""The title block: what is stamped in which state, what stands beside it, and that old verdicts look old."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QColor, QImage, QRegion
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.theme import PAPER, SLATE, Theme
from app.window.door import Door
from app.window.lists.stamp import Stamp, StampState
from app.window.lists.standing import State, standing_of
from app.window.lists.title_block import TitleBlock
from geometry.bracket import Bracket
from solver.results import CasingMovement, QuickAnswer, Verdict
from tests.app.example_results import SLIP, example_results, with_free_motion
from tests.app.window.lists.samples import one_piece, sample


def _block(qtbot: QtBot, bracket: Bracket | None = None) -> tuple[TitleBlock, Door]:
    door = Door(bracket or one_piece())
    block = TitleBlock(door, PAPER)
    qtbot.addWidget(block)
    block.resize(440, 170)
    block.show()
    return block, door


def _stamped(qtbot: QtBot, verdict: Verdict, state: StampState, theme: Theme = PAPER) -> QImage:
    stamp = Stamp(theme)
    qtbot.addWidget(stamp)
    stamp.show_verdict(verdict, state)
    stamp.resize(180, 50)
    image = QImage(180, 50, QImage.Format.Format_RGB32)
    image.fill(QColor(theme.ground))
    stamp.render(image, QPoint(0, 0), QRegion(), QWidget.RenderFlag.DrawChildren)
    return image


def _dark(image: QImage, box: QRect, theme: Theme = PAPER) -> int:
    """Count the points nearer to ink than to the ground."""
    ink, ground = QColor(theme.ink).lightness(), QColor(theme.ground).lightness()
    middle = (ink + ground) / 2
    return sum(
        (image.pixelColor(x, y).lightness() < middle) == (ink < ground)
        for x in range(box.left(), box.right())
        for y in range(box.top(), box.bottom())
    )


INNER = QRect(50, 14, 80, 24)
"""Where the word stands."""


@pytest.mark.parametrize("theme", [PAPER, SLATE])
def test_each_verdict_has_its_own_shape_and_only_ink_has_a_word(qtbot: QtBot, theme: Theme) -> None:
    images = {v: _stamped(qtbot, v, "ink", theme) for v in ("pass", "marginal", "fail", "no verdict")}
    assert all(_dark(images[v], INNER, theme) > 100 for v in ("pass", "marginal", "fail"))
    assert _dark(images["no verdict"], INNER, theme) == 0
    for state in ("pencil", "none"):
        assert _dark(_stamped(qtbot, "pass", state, theme), INNER, theme) < 60
    frames = {v: _dark(image, QRect(0, 0, 180, 14), theme) for v, image in images.items()}
    assert frames["pass"] > frames["marginal"] > frames["no verdict"]
    through = QRect(0, 18, 9, 14)
    assert _dark(images["fail"], through, theme) > _dark(images["pass"], through, theme)
    assert len({bytes(image.constBits()) for image in images.values()}) == 4


def test_shapes_differ_without_any_colour(qtbot: QtBot) -> None:
    grey = [
        _stamped(qtbot, v, "ink").convertToFormat(QImage.Format.Format_Grayscale8)
        for v in ("pass", "marginal", "fail", "no verdict")
    ]
    assert len({bytes(image.constBits()) for image in grey}) == 4


def test_a_verdict_out_of_date_is_crossed_and_faint(qtbot: QtBot) -> None:
    now, before = _stamped(qtbot, "pass", "ink"), _stamped(qtbot, "pass", "out of date")
    left = QRect(30, 14, 18, 24)
    assert _dark(before, left) < _dark(now, left) + 60
    stamp = Stamp(PAPER)
    qtbot.addWidget(stamp)
    stamp.show_verdict("pass", "out of date")
    assert stamp.accessibleName() == "No verdict now: drawn since; it was pass"


@pytest.mark.parametrize("verdict", ["pass", "marginal", "fail"])
def test_a_verdict_in_ink_is_told_with_its_couple_and_what_it_holds_to(
    qtbot: QtBot, verdict: Verdict
) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results(verdict), "ink")
    assert block.stamp.accessibleName() == f"Verdict: {verdict}"
    assert block.standing.words == "for 30 N.m (stated by the builder); holds to 71.3 N.m, then bolt 3 slips"
    assert block.standing.governs.startswith("stress, plate front")
    assert block.standing.words in block.accessibleDescription()


@pytest.mark.parametrize("state", ["pencil", "out of date", "none"])
def test_no_other_state_says_a_verdict(qtbot: QtBot, state: State) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("pass"), state)
    assert block.stamp.accessibleName().startswith("No verdict")
    assert "PASS" not in block.accessibleDescription()


@pytest.mark.parametrize("verdict", ["pass", "marginal", "fail"])
def test_pencil_stands_for_no_verdict_whatever_it_was_given(verdict: Verdict) -> None:
    assert standing_of(example_results(verdict), "pencil").verdict == "no verdict"


@pytest.mark.parametrize("state", ["pencil", "out of date"])
def test_what_is_read_in_full_does_not_begin_with_a_verdict_that_is_none(qtbot: QtBot, state: State) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("pass"), state)
    block.read_all()
    assert block.panel.accessibleName().startswith("No verdict")


def test_results_that_were_not_refined_are_no_pass_even_if_called_ink(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    results = example_results("pass")
    block.set_results(replace(results, accuracy=replace(results.accuracy, refined=False)), "ink")
    assert block.stamp.accessibleName() == "No verdict"


def test_pencil_says_so_far(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("no verdict"), "pencil")
    assert "71.3 N.m so far" in block.standing.words
    assert block.standing.pencil


def test_a_fail_by_a_free_motion_says_that_it_governs(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(with_free_motion(example_results()), "ink")
    assert block.standing.governs == "a free motion that a load case drives"


def test_what_is_looser_is_flagged_beside_the_verdict_and_read_in_full(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("pass"), "ink")
    assert block.standing.looser == ("The limit on turn is 0.2 deg, looser than the usual 0.1 deg.",)
    block.read_all()
    told = block.panel.text
    for words in (
        "Every check stays below 80 %.",
        "looser than the usual",
        "casing is rigid",
        "Weld quality",
    ):
        assert words in told
    qtbot.keyClick(block.panel, Qt.Key.Key_Escape)
    assert block.panel.isHidden()


def test_what_is_being_read_never_tells_of_results_that_are_gone(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("pass"), "ink")
    block.read_all()
    assert block.panel.accessibleName().startswith("PASS for 30 N.m")
    block.set_results(example_results("pass"), "out of date")
    assert "PASS" not in block.panel.accessibleName()
    assert "drawn since" in block.panel.accessibleName()
    block.set_results(None, "none")
    assert not block.panel.isHidden()
    assert "30 N.m" not in block.panel.accessibleName()
    assert "Every check stays below 80 %." not in block.panel.text


def test_what_is_read_is_in_inches_once_inches_are_shown(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(
        replace(example_results("pass"), assumptions=("A driver pulls with 300 N at the wheel.",)), "ink"
    )
    block.read_all()
    assert "lbf" not in block.panel.text
    block.set_inch(True)
    assert "300 N (67.4 lbf)" in block.panel.text
    assert "lbf.ft" in block.panel.accessibleName()


def test_no_verdict_is_said_once_where_it_is_read(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("no verdict"), "ink")
    block.read_all()
    assert block.panel.accessibleName().lower().count("no verdict") == 1


def test_a_quick_answer_is_pencil_and_goes_when_results_come(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_results(example_results("pass"), "ink")
    block.set_quick(QuickAnswer(CasingMovement(0.02, 0.01, 0.05, 0.3), (), (SLIP,), ()))
    assert block.stamp.accessibleName().startswith("No verdict yet")
    assert "so far" in block.standing.words
    assert block.standing.governs == "slip, bolt 3: 42 % of allowable"
    block.set_results(example_results("pass"), "ink")
    assert block.stamp.accessibleName() == "Verdict: pass"


def test_progress_is_told_and_can_be_stopped_and_started(qtbot: QtBot) -> None:
    block, _ = _block(qtbot)
    block.set_progress("solving plate", 0.4)
    assert block.progress.accessibleName() == "solving plate, 40 %"
    with qtbot.waitSignal(block.stop_asked):
        block.progress.act.click()
    block.set_progress("", None)
    block.set_results(example_results("pass"), "out of date")
    with qtbot.waitSignal(block.start_asked):
        block.progress.act.click()
    block.set_results(example_results("pass"), "ink")
    assert block.progress.act.isHidden()


def test_the_title_is_typed_over_and_the_sheet_tells_whether_it_is_saved(qtbot: QtBot) -> None:
    block, door = _block(qtbot)
    assert block.saved_words == "as saved"
    block.title.setFocus()
    block.title.selectAll()
    qtbot.keyClicks(block.title, "My own")
    qtbot.keyClick(block.title, Qt.Key.Key_Return)
    assert door.bracket.title == "My own"
    assert block.saved_words == "not saved"
    door.undo()
    assert block.title.text() == "Marlpit roadster, one piece"
    assert block.saved_words == "as saved"


def test_blanks_are_counted_and_led_through(qtbot: QtBot) -> None:
    bracket = sample("hedgerow_blank").but(rake_deg=None)
    bracket = bracket.with_bolt(bracket.bolt("3").but(grade=None))
    block, door = _block(qtbot, bracket)
    paths = {blank.path for blank in block.blanks.blanks}
    assert paths == {("column", "held_by"), ("rake_deg",), ("bolts", "3", "grade")}
    gone_to: list[object] = []
    block.jump.connect(gone_to.append)
    for _ in range(4):
        block.blanks.next_blank()
    assert set(gone_to) == paths
    assert gone_to[3] == gone_to[0]
    door.attempt("fill", lambda b: b.but(rake_deg=20))
    assert ("rake_deg",) not in {blank.path for blank in block.blanks.blanks}


def test_every_kind_of_blank_leads_to_a_field(qtbot: QtBot) -> None:
    from app.window.lists.notes import Notes
    from app.window.lists.parts_list import PartsList
    from geometry.casing import Column
    from geometry.fixing import BarEnd
    from geometry.loads import LoadCell

    bracket = one_piece()
    bar = bracket.dash_bar
    assert bar is not None
    bolt = bracket.bolt("1").but(grade=None, tightening_nm=None, face_friction=None)
    bracket = bracket.with_bolt(bolt).with_plate(bracket.plate("plate").but(material=None))
    bracket = bracket.but(
        rake_deg=None,
        wheel=None,
        loads=bracket.loads.but(couple=LoadCell(force_n=600)),
        dash_bar=bar.but(ends=(bar.ends[0], BarEnd(kind="stiffness"))),
    )
    for column in (Column(), Column(held_by="bearings"), Column(held_by="donor mount")):
        block, door = _block(qtbot, bracket.but(column=column))
        parts, notes = PartsList(door, PAPER), Notes(door, PAPER)
        qtbot.addWidget(parts)
        qtbot.addWidget(notes)
        assert len(block.blanks.blanks) == 9
        for blank in block.blanks.blanks:
            assert notes.go_to(blank.path) or parts.go_to(blank.path), blank
