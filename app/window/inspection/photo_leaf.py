"""The photographs of a record: dropped or chosen, made small, the place they were taken left behind."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent, QIcon, QImage, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from app.editing.refused import EditRefused
from app.record.photographs import photograph_of, picture_of, with_photograph, without_photograph
from app.record.record import Photograph, Record
from app.theme import Theme
from app.window.inspection.desk import InspectionDesk
from app.window.inspection.sides import Entry, LeafCaption, leaf_style
from app.window.lists.caption import plain_label

_ICON = QSize(200, 150)


class PhotoLeaf(QWidget):
    """Small pictures; under them what the one that is stood on shows."""

    choose_wanted = Signal()

    def __init__(self, desk: InspectionDesk, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._shown: tuple[Photograph, ...] = ()
        self._icons: dict[str, QIcon] = {}
        self.setAcceptDrops(True)
        self._explained = plain_label(
            self.tr(
                "Drop photographs here or choose them. Each is kept in the record itself, at most 1600 pixels"
                " long; the place and time the camera wrote are left out."
            )
        )
        self.list = QListWidget()
        self.list.setViewMode(QListWidget.ViewMode.IconMode)
        self.list.setIconSize(_ICON)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setMovement(QListWidget.Movement.Static)
        self.list.setSpacing(6)
        self.list.setAcceptDrops(False)
        self.list.setAccessibleName(self.tr("Photographs"))
        self.list.currentItemChanged.connect(lambda *_: self._show_words())
        self._caption = LeafCaption(self.tr("what it shows"), theme)
        self.words = Entry(self.tr("What the photograph shows"), self._set_words)
        choose = QPushButton(self.tr("Choose photographs…"))
        choose.clicked.connect(self.choose_wanted)
        self._out = QPushButton(self.tr("Take it out"))
        self._out.clicked.connect(self._take_out)
        row = QHBoxLayout()
        row.addWidget(choose)
        row.addWidget(self._out)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._explained)
        column.addWidget(self.list, 1)
        column.addWidget(self._caption)
        column.addWidget(self.words)
        column.addLayout(row)
        desk.changed.connect(self._show)
        self.set_theme(theme)
        self._show()

    def set_theme(self, theme: Theme) -> None:
        """Draw in another look."""
        self.setStyleSheet(leaf_style(theme))
        self._explained.setStyleSheet(f"color: {theme.pencil};")
        self._caption.set_theme(theme)

    def take(self, paths: list[Path]) -> None:
        """Put the photographs in these files into the record; what is none is told and left out."""
        for path in paths:
            if not self._desk.change(partial(_with_file, path)):
                return

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802 - Qt's name
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:  # noqa: N802 - Qt's name
        """Take files anywhere."""
        event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802 - Qt's name
        """Put what was dropped into the record."""
        self.take([Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()])
        event.acceptProposedAction()

    def _show(self) -> None:
        photographs = self._desk.record.photographs
        if photographs == self._shown:
            return
        stood = self.list.currentRow()
        self._shown = photographs
        self.list.clear()
        for photograph in photographs:
            row = QListWidgetItem(self._icon(photograph), photograph.name)
            row.setData(Qt.ItemDataRole.AccessibleTextRole, f"{photograph.name}: {photograph.words}")
            row.setToolTip("")
            self.list.addItem(row)
        self.list.setCurrentRow(min(max(stood, 0), len(photographs) - 1))
        self._show_words()

    def _show_words(self) -> None:
        photograph = self._current()
        self.words.setEnabled(photograph is not None)
        self._out.setEnabled(photograph is not None)
        self.words.stand("" if photograph is None else photograph.words)

    def _current(self) -> Photograph | None:
        row = self.list.currentRow()
        return self._shown[row] if 0 <= row < len(self._shown) else None

    def _icon(self, photograph: Photograph) -> QIcon:
        known = self._icons.get(photograph.jpeg)
        if known is None:
            pixmap = _pixmap(photograph)
            known = QIcon(pixmap)
            known.addPixmap(pixmap, QIcon.Mode.Selected)  # else it is tinted where it is stood on
            self._icons = {p.jpeg: self._icons[p.jpeg] for p in self._shown if p.jpeg in self._icons}
            self._icons[photograph.jpeg] = known
        return known

    def _set_words(self, words: str) -> bool:
        current = self._current()
        if current is None:
            return False
        return self._desk.change(
            lambda record: record.but(
                photographs=tuple(
                    p.but(words=words) if p.name == current.name else p for p in record.photographs
                )
            )
        )

    def _take_out(self) -> None:
        current = self._current()
        if current is not None:
            self._desk.change(lambda record: without_photograph(record, current.name))


def _with_file(path: Path, record: Record) -> Record:
    return with_photograph(record, photograph_of(path))


def _pixmap(photograph: Photograph) -> QPixmap:
    try:
        picture = picture_of(photograph)
    except EditRefused:
        return QPixmap(_ICON)
    high, wide = picture.shape[:2]
    image = QImage(picture.tobytes(), wide, high, wide * 3, QImage.Format.Format_RGB888)
    return QPixmap.fromImage(image.copy()).scaled(
        _ICON, Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
    )
