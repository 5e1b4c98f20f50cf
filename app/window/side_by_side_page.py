"""The page Side by side: two to four layouts at one scale, moving together, with figures and a sentence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QFont, QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QVBoxLayout, QWidget

from app.compare.comparison import Comparison, compare
from app.compare.judged import Judged
from app.theme import Theme
from app.window.asks import Asks
from app.window.beside.beside_judge import BesideJudge, JudgesBeside
from app.window.beside.chosen import ON_SHEET, Chosen, Laid, Other
from app.window.beside.figures import DifferencesList, FiguresTable
from app.window.beside.known import Known
from app.window.beside.ladder_leaf import LadderLeaf
from app.window.beside.pane import Pane
from app.window.beside.together import Together
from app.window.beside.turned_leaf import TurnedLeaf
from app.window.door import Door
from app.window.leaf_row import LeafRow
from app.window.lists.caption import Link, plain_label
from app.window.mounted_controls import MountedControls
from app.window.mounted_painting import Painting
from app.window.said_line import SaidLine
from app.window.seeing import Seeing
from app.window.tab_order import TabOrder
from app.window.verdict_flow import VerdictFlow
from app.window.worded import worded
from app.wording.figures import Units, sentence_in_units
from solver.results import Results

INVITATION: Final = "Lay something beside the bracket on the sheet: a variant, a file, or its sawn twin."
_TABLE_SHARES: Final = {1: 62, 2: 62, 3: 68, 4: 77}
"""Per cent of the width for the figures, by the number of layouts."""
_FOLLOW_MS: Final = 80
"""After a change, before everything is laid anew."""


class SideBySidePage(QWidget):
    """Holds the chosen layouts and shows them; the bracket on the sheet is always the first."""

    def __init__(
        self,
        door: Door,
        verdicts: VerdictFlow,
        seeing: Seeing,
        asks: Asks,
        painting: Painting,
        folder: Callable[[], Path],
        judge: JudgesBeside | None = None,
    ) -> None:
        super().__init__()
        self._door, self._verdicts, self._asks, self._painting = door, verdicts, asks, painting
        self._folder = folder
        self._theme = seeing.theme
        self._units: Units = "inch" if seeing.inch else "mm"
        self.judge: JudgesBeside = BesideJudge(self) if judge is None else judge
        self.chosen = Chosen()
        self.together = Together(self)
        self.controls = MountedControls(self.together, self._theme)
        self.ladder = LadderLeaf(door, self._theme, folder, of_file=lambda: verdicts.file_findings)
        self.turned = TurnedLeaf(door, self._theme, lambda: verdicts.file_findings)
        for leaf in (self.ladder, self.turned):
            leaf.set_inch(seeing.inch)
        self.figures = FiguresTable(self._theme)
        self.differences = DifferencesList(self._theme)
        self.said = SaidLine(self._theme)
        self.panes: list[Pane] = []
        self.comparison: Comparison | None = None
        self._order: TabOrder | None = None
        self._laid: tuple[Laid, ...] = ()
        self._known = Known()
        self._doing: tuple[str, str] = ("", "")
        self._follow = QTimer(self, singleShot=True, interval=_FOLLOW_MS)
        self._follow.timeout.connect(self.lay_out)
        self._links = [
            Link("lay a variant beside it", self._theme),
            Link("a file…", self._theme),
            Link("its sawn twin", self._theme),
        ]
        self.leaves = LeafRow(("Layouts", "Ladder", "One input"), self._theme)
        self._put_together()
        self._listen(seeing)
        self.set_theme(self._theme)

    # -- what the user does

    def add_variant(self, name: str) -> None:
        """Lay a variant of the bracket on the sheet beside it."""
        self._take(self.chosen.take(Other("variant", name)))

    def add_file(self) -> None:
        """Ask for a bracket file and lay it beside the rest."""
        path = self._asks.bracket_to_open(self._folder())
        if path is not None:
            self.add_path(path)

    def add_path(self, path: Path) -> None:
        """Lay the bracket in a file beside the rest."""
        self._take(self.chosen.take_file(path))

    def add_sawn_twin(self) -> None:
        """Lay the sawn twin of the bracket on the sheet beside it."""
        self._take(self.chosen.take(Other("sawn")))

    def take_away(self, other: Other) -> None:
        """Take one away."""
        self.chosen.take_away(other)
        self.lay_out()

    # -- what is shown

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        for link in self._links:
            link.set_theme(theme)
        for pane in self.panes:
            pane.set_theme(theme)
        self.leaves.set_theme(theme)
        self.ladder.set_theme(theme)
        self.turned.set_theme(theme)
        self.controls.set_theme(theme)
        self.figures.set_theme(theme)
        self.differences.set_theme(theme)
        self.said.set_theme(theme)
        self._sentence.setStyleSheet(f"color: {theme.ink}")
        self._ground.setStyleSheet(f"color: {theme.pencil}")

    def set_inch(self, inch: bool) -> None:
        """Show lengths in inches or in millimetres."""
        self._units = "inch" if inch else "mm"
        self.ladder.set_inch(inch)
        self.turned.set_inch(inch)
        for pane in self.panes:
            pane.set_units(self._units)
        self._show()

    def lay_out(self) -> None:
        """Lay everything chosen out anew, and have judged what is not known."""
        laid, left_out = self.chosen.laid(self._door.bracket)
        if left_out:
            self.said.say(left_out)
        if [one.other for one in laid] != [one.other for one in self._laid] or not self.panes:
            self._make_panes(laid)
        self._laid = laid
        keys = {one.layout.bracket.input_hash() for one in laid}
        self._known.keep_only(keys)
        own = self._door.bracket.input_hash()
        wanted = [x.layout.bracket for x in laid[1:] if x.layout.bracket.input_hash() != own]
        self.judge.want(wanted)
        self._show()

    def leave(self) -> None:
        """End what works in the background."""
        self.judge.stop()
        self.ladder.leave()
        self.turned.leave()

    def showEvent(self, event: QShowEvent) -> None:  # noqa: N802 - Qt's name
        """Lay out what there is; the first time with the variants kept in the file."""
        super().showEvent(event)
        if not self.chosen.others:
            for name in self.chosen.free_variants(self._door.bracket):
                self.chosen.take(Other("variant", name))
        self.lay_out()
        self.together.fit()

    def hideEvent(self, event: QHideEvent) -> None:  # noqa: N802 - Qt's name
        """Judge nothing while nobody looks."""
        super().hideEvent(event)
        self._follow.stop()
        self.judge.want(())

    # -- inside

    def _put_together(self) -> None:
        self._sentence, self._ground = plain_label(), plain_label()
        bold = QFont(self.font())
        bold.setBold(True)
        bold.setPointSizeF(bold.pointSizeF() * 1.15)
        self._sentence.setFont(bold)
        top = QHBoxLayout()
        top.setSpacing(14)
        for link in self._links:
            top.addWidget(link)
        top.addWidget(self._ground, 1)
        self._ground.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._row = QHBoxLayout()
        self._row.setSpacing(12)
        self._under = QHBoxLayout()
        self._under.setSpacing(16)
        self._under.addWidget(self.figures, 62)
        self._under.addWidget(self.differences, 38)
        layouts = QWidget()
        column = QVBoxLayout(layouts)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(5)
        column.addWidget(self._sentence)
        column.addLayout(self._row, 62)
        column.addWidget(self.controls)
        column.addWidget(self.said)
        column.addLayout(self._under, 38)
        page = QVBoxLayout(self)
        page.setContentsMargins(12, 4, 12, 6)
        page.setSpacing(2)
        top.insertWidget(0, self.leaves)
        page.addLayout(top)
        page.addWidget(self.leaves.stack((layouts, self.ladder, self.turned)), 1)

    def _listen(self, seeing: Seeing) -> None:
        self.leaves.turned.connect(self._leaf_turned)
        self._links[0].clicked.connect(self._offer_variants)
        self._links[1].clicked.connect(self.add_file)
        self._links[2].clicked.connect(self.add_sawn_twin)
        self._door.changed.connect(self._changed)
        self._door.opened.connect(self._opened)
        self._verdicts.results_changed.connect(lambda _results, _state: self._show_if_seen())
        self.judge.judged.connect(self._judged)
        self.judge.failed.connect(self._failed)
        self.judge.progressed.connect(self._progressed)
        seeing.inch_changed.connect(self.set_inch)

    def _leaf_turned(self, place: int) -> None:
        for widget in (*self._links, self._ground):
            widget.setVisible(place == 0)

    def _take(self, trouble: str) -> None:
        self.said.say(trouble)
        if not trouble:
            self.lay_out()
            self.together.fit()

    def _offer_variants(self) -> None:
        names = self.chosen.free_variants(self._door.bracket)
        if not names:
            self.said.say(
                worded("No other layout is kept in this file: Saw, Keep this layout as a variant keeps one.")
            )
            return
        menu = QMenu(self)
        for name in names:
            menu.addAction(name).triggered.connect(lambda _=False, n=name: self.add_variant(n))
        menu.popup(self._links[0].mapToGlobal(self._links[0].rect().bottomLeft()))

    def _make_panes(self, laid: tuple[Laid, ...]) -> None:
        self.together.take(())
        for pane in self.panes:
            self._row.removeWidget(pane)
            pane.hide()
            pane.deleteLater()
        self.panes = []
        for one in laid:
            pane = Pane(self._theme, self._painting, may_go=one.other is not None)
            pane.set_units(self._units)
            pane.away.connect(self._away_with(one.other))
            self._row.addWidget(pane, 1)
            pane.show()
            self.panes.append(pane)
        self.together.take([pane.view for pane in self.panes])
        for table in (self.figures, self.differences):
            # with nothing to compare the picture has their room
            table.setVisible(len(laid) > 1)
        share = _TABLE_SHARES[len(laid)]
        self._under.setStretch(0, share)
        self._under.setStretch(1, 100 - share)
        if self._order is not None:
            self._order.deleteLater()
        parts = [*self._links, *self.panes, self.controls, self.figures, self.differences]
        self._order = TabOrder(parts, self)
        self._order.settle()

    def _away_with(self, other: Other | None) -> Callable[[], None]:
        # the pane that was pressed goes too: not before its own event is over
        return lambda: QTimer.singleShot(0, lambda: None if other is None else self.take_away(other))

    def _judged_of(self, laid: Laid) -> Judged:
        return self._known.judged(laid, self._verdicts.results, self._verdicts.file_findings)

    def _show_if_seen(self) -> None:
        if self.isVisible():
            self._show()

    def _show(self) -> None:
        judged = [self._judged_of(one) for one in self._laid]
        if len(judged) != len(self.panes):
            return
        for one, pane in zip(judged, self.panes, strict=True):
            pane.show_layout(one, self._doing[1] if one.layout.bracket.input_hash() == self._doing[0] else "")
        self.together.settle()
        self.together.fit_if_not_by_hand()
        first = next((one.results for one in judged if one.results is not None), None)
        self.controls.set_results(first, "none" if first is None else "ink")
        self.comparison = compare(judged) if len(judged) > 1 else None
        found = self.comparison
        said = INVITATION if found is None else sentence_in_units(_begun(found.sentence), self._units)
        self._sentence.setText(said)
        self._ground.setText("" if found is None else found.ground_words)
        self.figures.show_comparison(found, self._units)
        self.differences.show_comparison(found, self._units)

    def _judged(self, results: Results, pencil: bool) -> None:
        self._known.take(results, pencil=pencil)
        self._show_if_seen()

    def _failed(self, key: str, words: str) -> None:
        self._known.take_trouble(key, words)
        self._show_if_seen()

    def _progressed(self, key: str, words: str, share: float) -> None:
        self._doing = (key, f"{words}, {share:.0%}")
        for one, pane in zip(self._laid, self.panes, strict=False):
            if one.layout.bracket.input_hash() == key:
                pane.show_doing(self._judged_of(one), self._doing[1])

    def _changed(self) -> None:
        if self.isVisible():
            self._follow.start()

    def _opened(self) -> None:
        self.chosen.clear()
        self._known.forget_troubles()


def _begun(sentence: str) -> str:
    """Return the sentence with a capital, unless it begins with the name of a file or a variant."""
    return sentence[0].upper() + sentence[1:] if sentence.startswith(ON_SHEET) else sentence
