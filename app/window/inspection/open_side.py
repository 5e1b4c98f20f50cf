"""The leading side of the record: whose bracket it is, what is computed, how it stands, what is open."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from app.record.open_items import OpenItem
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.sides import LeafCaption, leaf_style
from app.window.inspection.standing_mark import StandingMark
from app.window.lists.caption import plain_label, plain_tip, thin_bar
from app.window.lists.stamp import Stamp
from app.window.worded import worded
from app.wording.figures import Units, sentence_in_units

_ITEM = Qt.ItemDataRole.UserRole


class OpenSide(QWidget):
    """Enter on an open item, or a click, goes to where it is settled."""

    item_picked = Signal(object)
    """The OpenItem."""

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._theme = desk, theme
        self._shown: tuple[OpenItem, ...] = ()
        self._units: Units = "mm"
        self._title, self._file, self._sentence, self._work = (plain_label() for _ in range(4))
        self.stamp, self.mark = Stamp(theme), StandingMark(theme)
        self._captions = {
            name: LeafCaption(words, theme)
            for name, words in (
                ("whose", self.tr("inspected, read only")),
                ("computed", self.tr("computed")),
                ("record", self.tr("record")),
                ("open", self.tr("open items")),
            )
        }
        self.list = QListWidget()
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName(self.tr("Open items"))
        self.list.itemClicked.connect(self._pick)
        self.list.itemActivated.connect(self._pick)
        marks = QHBoxLayout()
        for name, mark in (("computed", self.stamp), ("record", self.mark)):
            column = QVBoxLayout()
            column.setSpacing(0)
            column.addWidget(self._captions[name])
            column.addWidget(mark, 0, Qt.AlignmentFlag.AlignLeft)
            column.addStretch(1)
            marks.addLayout(column)
        marks.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(4)
        for widget in (self._captions["whose"], self._title, self._file):
            whole.addWidget(widget)
        whole.addLayout(marks)
        for widget in (self._work, self._sentence, self._captions["open"]):
            whole.addWidget(widget)
        whole.addWidget(self.list, 1)
        desk.changed.connect(self._show)
        desk.opened.connect(self._show)
        desk.computing.connect(self._show_work)
        self.set_theme(theme)
        self._show()

    @property
    def sentence(self) -> str:
        """Return what is said of how the record stands."""
        return self._sentence.text()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self._theme = theme
        self.setStyleSheet(
            leaf_style(theme)
            + f"QListWidget::item {{ padding: 3px 2px; border-bottom: 1px solid {theme.faint}; }}"
        )
        self.list.verticalScrollBar().setStyleSheet(thin_bar(theme))
        self._title.setStyleSheet(f"color: {theme.ink}; font-weight: bold;")
        self._file.setStyleSheet(f"color: {theme.pencil};")
        self._work.setStyleSheet(f"color: {theme.pencil}; font-style: italic;")
        self._sentence.setStyleSheet(f"color: {theme.ink};")
        for caption in self._captions.values():
            caption.set_theme(theme)
        self.stamp.set_theme(theme)
        self.mark.set_theme(theme)

    def set_inch(self, inch: bool) -> None:
        """Tell figures in inches and pounds too."""
        self._units = "inch" if inch else "mm"
        self._shown = ()
        self._show()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802 - Qt's name
        """Enter goes to where the item is settled."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.list.currentItem() is not None:
            self._pick(self.list.currentItem())
        else:
            super().keyPressEvent(event)

    def _show(self) -> None:
        desk, items = self._desk, self._desk.items
        standing = desk.standing
        name = desk.path.name if desk.path is not None else self.tr("the bracket on the sheet, not saved")
        self._title.setText(desk.record.title or desk.bracket.title)
        as_saved = desk.is_kept and not desk.has_unsaved_work
        unsaved = self.tr("record as saved") if as_saved else self.tr("record not saved")
        self._file.setText(
            worded(
                "{name}; inputs {hash}; {unsaved}",
                name=name,
                hash=desk.bracket.input_hash()[:12],
                unsaved=unsaved,
            )
        )
        verdict = desk.judgements.verdict
        self.stamp.show_verdict(verdict, "none" if desk.results is None else "ink")
        # the frame of no verdict is an empty one: the words are beside it
        computed = {None: self.tr("computed: nothing yet"), "no verdict": self.tr("computed: no verdict")}
        self._captions["computed"].setText(
            computed.get(None if desk.results is None else verdict, self.tr("computed"))
        )
        self.mark.show_word(standing.word)
        self._sentence.setText(sentence_in_units(standing.sentence, self._units))
        self._captions["open"].setText(
            self.tr("open items: {0}; Enter goes there").replace("{0}", str(len(items)))
        )
        if items != self._shown or self.list.count() == 0:
            self._fill(items)

    def _fill(self, items: tuple[OpenItem, ...]) -> None:
        stood = self.list.currentRow()
        self._shown = items
        self.list.clear()
        for item in items:
            words = sentence_in_units(item.words, self._units)
            row = QListWidgetItem(f"{item.about}: {words}")
            row.setData(_ITEM, item)
            row.setToolTip(plain_tip(words))
            self.list.addItem(row)
        if not items:
            row = QListWidgetItem(self.tr("Nothing is open."))
            row.setFlags(Qt.ItemFlag.NoItemFlags)
            self.list.addItem(row)
        self.list.setCurrentRow(min(max(stood, 0), max(len(items) - 1, 0)))

    def _show_work(self, words: str, share: float) -> None:
        self._work.setText(f"{words}, {share:.0%}" if words else "")

    def _pick(self, row: QListWidgetItem) -> None:
        item = row.data(_ITEM)
        if isinstance(item, OpenItem):
            self.item_picked.emit(item)
