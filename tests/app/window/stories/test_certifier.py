"""A certifier's work from a builder's file to the register and back, by mouse and keys, really computed."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from app.record.proof import ProofLine, proof_lines
from app.record.record_file import read_record
from app.register.database import Register
from app.window.record_page import RecordPage
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from geometry.fixing import RectangularTube
from geometry.loads import Claim
from tests.app.window.stories.builds import whole
from tests.app.window.stories.hands import WindowHand, window_in_hand

CTRL = Qt.KeyboardModifier.ControlModifier
LANE = {
    "format": "holdsquare profile",
    "version": 1,
    "name": "lane 4",
    "certifier": "R. Inventley (invented)",
    "limits": {"turn_deg": 0.08},
    "check_list": [{"group": "welds", "words": "Coded welder named", "clause": "rule 4.2"}],
    "cautions": ["Lane 4 looks at no car without its papers."],
}


def of_the_builder() -> Bracket:
    """Return the builder's bracket: more friction than usual said of a bolt, and a claim."""
    bracket = whole()
    assert bracket.dash_bar is not None
    # so slender a bar that a gauge far out can see it bend
    tube = RectangularTube(width_mm=32, height_mm=32, wall_mm=2.5)
    (x, y, z), lower = bracket.dash_bar.to_mm, 4.0
    places = {"from_mm": (-x, y, z - lower), "to_mm": (x, y, z - lower)}
    bracket = bracket.but(dash_bar=bracket.dash_bar.but(section=tube, **places))
    bolts = [
        bolt.but(face_friction=0.2, pad_diameter_mm=None if bolt.pad_diameter_mm is None else 24)
        for bolt in bracket.bolts
    ]
    loose = bracket.but(bolts=(bolts[0].but(face_friction=0.3), *bolts[1:]))
    said = Claim(
        hash=loose.input_hash(), verdict="pass", holds_to_nm=500.0, version="0.1.0", date="2031-04-01"
    )
    return loose.but(claim=said)


class Certifier:
    """Clicks words, types into what is called by a name, presses keys where the keyboard is."""

    def __init__(self, hand: WindowHand, folder: Path) -> None:
        self.hand, self.qtbot, self.answers, self.folder = hand, hand.qtbot, hand.answers, folder
        self.file = folder / "theirs.bracket.json"
        self.record = folder / "theirs.record.json"
        hand.window.edges.turn_to_words("Record")

    @property
    def page(self) -> RecordPage:
        return self.hand.window.record

    @property
    def said(self) -> str:
        return self.page.said.sentence

    @property
    def open_items(self) -> list[str]:
        texts = self.page.side.list
        return [texts.item(n).text() for n in range(texts.count())]

    def click(self, words: str) -> None:
        button = next(
            b for b in self.page.findChildren(QAbstractButton) if b.isVisible() and b.text() == words
        )
        # a round button's words are beside it: at its left end, where its mark is
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton, pos=QPoint(9, button.height() // 2))

    def entry(self, told: str) -> QWidget:
        kinds = (QLineEdit, QPlainTextEdit)
        found: list[QWidget] = [e for kind in kinds for e in self.page.findChildren(kind)]
        return next(e for e in found if e.isVisible() and told in e.accessibleName())

    def type(self, told: str, text: str) -> None:
        entry = self.entry(told)
        entry.setFocus()
        self.qtbot.keyClick(entry, Qt.Key.Key_A, CTRL)
        self.qtbot.keyClicks(entry, text)
        self.qtbot.keyClick(entry, Qt.Key.Key_Tab)

    def key(self, key: Qt.Key, keys: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.page, key, keys)

    def wait_for_all(self) -> None:
        """Wait until nothing is being computed any more."""
        judge = self.page.desk._judge
        self.qtbot.waitUntil(
            lambda: judge._out is None and self.page.desk.results is not None, timeout=90_000
        )


@pytest.fixture
def certifier(qtbot: QtBot, tmp_path: Path) -> Iterator[Certifier]:
    with window_in_hand(qtbot) as hand:
        yield Certifier(hand, tmp_path)


def test_from_a_builders_file_to_the_register_and_back(certifier: Certifier) -> None:
    see = certifier
    save_bracket(see.file, of_the_builder())
    before = see.file.read_bytes()
    opens_and_compares(see)
    fills_the_check_list_and_adds_a_photograph(see)
    measures_and_proves(see)
    decides(see)
    assert see.file.read_bytes() == before
    keeps_it_in_the_register_and_opens_it_again(see)


def opens_and_compares(see: Certifier) -> None:
    page = see.page
    see.answers.open = see.file
    see.click("Open somebody's bracket…")
    see.wait_for_all()
    compared = page.comparison.toPlainText()
    assert "Claimed on 2031-04-01 with version 0.1.0: pass, holding to 500 N.m." in compared
    assert "The claim was made for the same inputs." in compared
    assert "Holds to: then 500 N.m, now" in compared
    assert "friction" in compared.split("heaviest first")[1]

    lane = see.folder / "lane.json"
    lane.write_text(json.dumps(LANE))
    see.answers.open = lane
    see.click("Judge under a profile…")
    see.wait_for_all()
    assert "judged under lane 4" in page.comparison.toPlainText()
    assert "Lane 4 looks at no car" in page.comparison.toPlainText()
    assert any("Coded welder named [rule 4.2]" in item for item in see.open_items)


def fills_the_check_list_and_adds_a_photograph(see: Certifier) -> None:
    page, desk = see.page, see.page.desk
    see.click("Check-list")
    page.check_list.lines.setFocus()
    page.check_list.lines.go_to(0)
    for item in desk.record.check_list:
        lamp = item.group == "warning lamp"
        see.key(Qt.Key.Key_N if lamp else Qt.Key.Key_M)
        see.key(Qt.Key.Key_Down)
    assert see.open_items[-1].startswith("warning lamp:") or any(
        "The warning lamp lights and goes out: not met" in item for item in see.open_items
    )

    see.click("Photographs")
    photo = see.folder / "ramp.jpg"
    Image.new("RGB", (2400, 1600), (70, 80, 90)).save(photo)
    see.answers.open = photo
    see.click("Choose photographs…")
    see.type("What the photograph shows", "bolt 1 with its witness mark")
    assert [(p.width_px, p.words) for p in desk.record.photographs] == [
        (1600, "bolt 1 with its witness mark")
    ]


def measures_and_proves(see: Certifier) -> None:
    """Measure a plate; read nought at first, which is never taken for a stiff mounting; then farther out."""
    page, desk = see.page, see.page.desk
    see.click("Measured")
    see.type("plate, drawn 4 mm", "3.8")
    assert any("not judged yet as built" in item for item in see.open_items)
    see.wait_for_all()
    assert "plate is 3.8 mm thick, drawn 4" in page.measured.said
    assert "As built: PASS" in page.measured.said

    card = "Proof, top, right edge: hang left, right, left: "
    for words in ("zero after left", "zero after right", "left", "right", "left again"):
        see.type(f"{card}{words}", "0")
    see.type(f"{card}mass hung", "2.45")
    see.type(f"{card}at an arm of", "500")
    assert any("the gauge read nought: did it touch?" in item for item in see.open_items)
    told = page.measured.said
    assert "can tell" in told
    # what the program proposes is done: the gauge farther out, where the movement can be read
    proof = desk.record.measured.proof[0]
    assert proof.gauge_at_mm is not None
    mass, far = (re.search(said, told) for said in (r"([\d.]+) kg at 500 mm", r"the gauge (\d+) mm from"))
    assert mass is not None
    assert far is not None
    see.type(f"{card}mass hung", mass[1])
    see.type(f"{card}gauge touches", f"{far[1]}; {proof.gauge_at_mm[1]:g}; {proof.gauge_at_mm[2]:g}")
    line = _lines(page)[0]
    assert line.band is not None
    assert line.held_mm is not None
    assert line.band.low_mm > 0.0
    share = f"{line.band.low_mm + 0.6 * (line.held_mm - line.band.low_mm):.3f}"
    see.type(f"{card}left", share)
    see.type(f"{card}right", f"-{share}")
    see.type(f"{card}left again", share)
    assert not [item for item in see.open_items if item.startswith("measured: proof")]


def decides(see: Certifier) -> None:
    page, desk = see.page, see.page.desk
    see.click("Decision")
    see.type("Date, as", "2031-05-02")
    see.click("Accept with conditions")
    assert see.said.startswith("It cannot be accepted: warning lamp:")
    see.answers.save = see.folder / "letter.pdf"
    see.click("Letter of open items…")
    assert (see.folder / "letter.pdf").read_bytes().startswith(b"%PDF-")

    # the builder mends the lamp; the certifier goes there from the open item
    page.side.list.setFocus()
    page.side.list.setCurrentRow(
        next(n for n, item in enumerate(see.open_items) if item.startswith("warning lamp"))
    )
    see.key(Qt.Key.Key_Return)
    assert page.leaf == "Check-list"
    see.key(Qt.Key.Key_M)
    assert see.open_items == ["Nothing is open."]

    see.click("Decision")
    conditions = see.entry("Conditions, one a line")
    conditions.setFocus()
    see.qtbot.keyClicks(conditions, "refit bolt 3 by 2031-05-30")
    see.click("Accept with conditions")
    assert page.side.mark.accessibleName() == "Record: accepted with conditions"
    assert page.side.sentence == "Accepted with conditions: refit bolt 3 by 2031-05-30."
    see.answers.save = see.record
    page.setFocus()
    see.key(Qt.Key.Key_S, CTRL)
    assert see.said == "Saved in theirs.record.json."
    assert read_record(see.record).record == desk.record


def keeps_it_in_the_register_and_opens_it_again(see: Certifier) -> None:
    page, desk = see.page, see.page.desk
    see.click("Register")
    see.click("Add this one")
    assert page.register.said == "1 inspection, 0 overdue."
    (row,) = Register().newest()
    assert (row.entry.decision, row.entry.verdict) == ("accept with conditions", "pass")

    saved = read_record(see.record).record
    assert saved == desk.record
    desk.look_at(Bracket(), None)
    search = see.entry("Search the register")
    search.setFocus()
    see.qtbot.keyClicks(search, "saw refit")
    see.key(Qt.Key.Key_Return)
    see.wait_for_all()
    assert desk.path == see.file
    assert desk.record == saved


def _lines(page: RecordPage) -> tuple[ProofLine, ...]:
    desk = page.desk
    return proof_lines(desk.record.measured.proof[0], desk.results, desk.bracket)
