"""Names are typed in the parts list and what names them follows; missing parts are led to as blanks are."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.editing.refused import EditRefused
from app.editing.renames import rename_material, with_own_material
from app.paper.bolts_to_buy import bolts_to_buy, length_words
from app.window.forms.form import Form
from app.window.lists.blank_places import MISSING, blank_places
from app.window.lists.field import Path as FieldPath
from app.window.lists.field import put
from app.window.lists.part_rows import part_rows
from app.window.main_window import MainWindow
from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.findings import can_be_analysed, findings_of
from geometry.fixing import Anchor, AtAnchor, AtBoss
from tests.app.window.lists.samples import one_piece
from tests.app.window.shown import window_shown


@pytest.fixture
def window(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[MainWindow]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (shown, _, _):
        yield shown


def _type(qtbot: QtBot, window: MainWindow, path: FieldPath, text: str) -> None:
    listed = window.page.parts_list
    assert listed.go_to(path), path
    edit = next(edit for row in listed.rows if (edit := row.edit_at(path)) is not None)
    edit.selectAll()
    qtbot.keyClicks(edit, text)
    qtbot.keyClick(edit, Qt.Key.Key_Return)


def _two_strap_anchored() -> Bracket:
    bracket = one_piece()
    anchor = Anchor(name="wall", at_mm=None, word="the builder")
    bolt = bracket.bolt("7").but(joins=AtAnchor(anchor="wall"))
    return bracket.but(anchors=(anchor,)).with_bolt(bolt)


def test_bolts_plates_bosses_and_anchors_get_other_names_and_keep_together(
    qtbot: QtBot, window: MainWindow
) -> None:
    window.door.open(_two_strap_anchored())
    before = window.door.bracket
    _type(qtbot, window, ("plates", "plate", "name"), "front")
    assert {bolt.plate for bolt in window.door.bracket.bolts} == {"front"}
    assert window.door.pick is not None
    assert window.door.pick.name == "front"
    _type(qtbot, window, ("anchors", "wall", "name"), "pillar")
    assert window.door.bracket.bolt("7").joins == AtAnchor(anchor="pillar")
    _type(qtbot, window, ("bolts", "7", "name"), "last")
    assert window.door.bracket.bolt("last").joins == AtAnchor(anchor="pillar")
    _type(qtbot, window, ("bolts", "last", "name"), "1")
    assert window.door.bracket.bolt("last").name == "last"
    while window.door.bracket != before:
        window.door.undo()


def _alone(window: MainWindow, boss: str) -> bool:
    """Open the row of several bosses, so that each can be named."""
    listed = window.page.parts_list
    key = next(row.row.key for row in listed.rows if row.row.key.startswith("bosses "))
    listed.open_row(key)
    return any(row.row.key == f"boss {boss}" for row in listed.rows)


def test_a_boss_gets_another_name_and_its_bolt_follows(qtbot: QtBot, window: MainWindow) -> None:
    window.door.open(one_piece())
    assert _alone(window, "top")
    bolt = next(b for b in window.door.bracket.bolts if b.joins == AtBoss(boss="top"))
    _type(qtbot, window, ("casing", "bosses", "top", "name"), "upper")
    assert window.door.bracket.bolt(bolt.name).joins == AtBoss(boss="upper")


def test_the_files_own_material_is_made_named_and_its_figures_typed(qtbot: QtBot, window: MainWindow) -> None:
    window.door.open(one_piece())
    window.actions_by_name["change.material"].trigger()
    (own,) = window.door.bracket.materials
    assert window.door.bracket.plate("plate").material == own.name
    _type(qtbot, window, ("materials", own.name, "yield_mpa"), "240 MPa")
    assert window.door.bracket.materials[0].yield_mpa == 240.0
    _type(qtbot, window, ("materials", own.name, "name"), "cert 4711")
    assert window.door.bracket.plate("plate").material == "cert 4711"
    assert can_be_analysed(findings_of(window.door.bracket))
    _type(qtbot, window, ("materials", "cert 4711", "source"), "certificate 4711")
    assert window.door.bracket.materials[0].source == "certificate 4711"


def test_a_material_follows_into_bar_and_spacer_and_takes_no_name_twice() -> None:
    made = with_own_material(one_piece(), "plate")
    assert made.dash_bar is not None
    own = made.materials[0].name
    made = made.but(dash_bar=made.dash_bar.but(material=own.upper()))
    named = rename_material(made, own, "new")
    assert named.dash_bar is not None
    assert named.dash_bar.material == named.plate("plate").material == "new"
    with pytest.raises(EditRefused, match="own already"):
        with_own_material(made, "plate")
    with pytest.raises(EditRefused, match="cannot go without a name"):
        rename_material(made, own, " ")


def test_the_parts_list_names_the_length_that_the_drawing_names() -> None:
    bracket = one_piece()
    bought = bolts_to_buy(bracket)
    assert bought
    rows = part_rows(bracket, opened=[row.key for row in part_rows(bracket)])
    for name, one in bought.items():
        row = next(row for row in rows if row.key == f"bolt {name}")
        assert row.rest is not None
        told = "".join(piece for piece in row.rest.pieces if isinstance(piece, str))
        assert one.length_mm is not None
        assert f"({length_words(one.length_mm, bolt_size(bracket.bolt(name).size))} fits: " in told


def test_parts_that_are_not_there_count_as_blanks_and_are_led_to(qtbot: QtBot, window: MainWindow) -> None:
    blanks = window.page.title_block.blanks.blanks
    assert {("plates",), ("casing",)} <= {blank.path for blank in blanks}
    seen = []
    for _ in blanks:
        window.page.next_blank()
        form = window.page.sheet.form
        seen.append(form.accessibleName() if isinstance(form, Form) else window.page.flat.tool)
        window.page.sheet.take_away()
        window.page.flat.put_down()
    assert "outline" in seen
    assert any("asing" in one for one in seen)


def test_every_missing_part_is_a_stop_of_the_catalogue() -> None:
    bare = put(one_piece(), ("bolts",), ())
    paths = {blank.path for blank in blank_places(bare, findings_of(bare))}
    assert ("bolts",) in paths
    barless = one_piece().but(dash_bar=None)
    assert ("dash_bar",) in {blank.path for blank in blank_places(barless, findings_of(barless))}
    assert all(len(path) <= 2 for path in MISSING.values())
