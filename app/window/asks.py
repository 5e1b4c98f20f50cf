"""The few questions the window asks in a dialog of their own; tests answer them in its place."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Literal

from PySide6.QtWidgets import QFileDialog, QInputDialog, QMessageBox, QWidget

from app.record.record_name import SUFFIX as RECORD_SUFFIX
from app.record.record_name import record_named
from geometry.bracket_file import SUFFIX

_BRACKETS: Final = f"Bracket files (*{SUFFIX} *.json)"
_OR_REPORTS: Final = f"Bracket files and reports (*{SUFFIX} *.json *.pdf)"
_DRAWINGS: Final = "Drawings with closed loops (*.dxf *.svg)"
_PHOTOGRAPHS: Final = "Photographs and scans (*.png *.jpg *.jpeg *.webp *.bmp *.tif *.tiff)"
_RECORDS: Final = f"Records (*{RECORD_SUFFIX})"
_PROFILES: Final = "Limits and profiles (*.json)"
_PDF: Final = "PDF pages (*.pdf)"
_HTML: Final = "HTML in one file (*.html)"
_LISTS: Final = "Lists of a register (*.csv)"
_CUT: Final = "Files for the cutter (*.dxf *.svg)"
_PNG: Final = "PNG pictures (*.png)"

Leaving = Literal["save", "leave", "stay"]


class Asks:
    """Asks over one window."""

    def __init__(self, window: QWidget) -> None:
        self._window = window

    def bracket_to_open(self, folder: Path) -> Path | None:
        """Return the file to open; None if it was called off."""
        return self._open("Open a bracket", folder, _OR_REPORTS)

    def drawing_to_open(self, folder: Path) -> Path | None:
        """Return the DXF or SVG file to take an outline from."""
        return self._open("Take an outline from a drawing", folder, _DRAWINGS)

    def photograph_to_open(self, folder: Path) -> Path | None:
        """Return the photograph or scan to lay under the sheet."""
        return self._open("Lay a photograph under the sheet", folder, _PHOTOGRAPHS)

    def where_to_save(self, suggested: Path) -> Path | None:
        """Return where to save a bracket, with the ending of a bracket file."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the bracket", str(suggested), _BRACKETS)
        return _with_ending(Path(name)) if name else None

    def where_to_put_picture(self, suggested: Path) -> Path | None:
        """Return where to write a picture of the sheet."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Picture of the sheet", str(suggested), _PNG)
        return Path(name).with_suffix(".png") if name else None

    def photographs_to_take(self, folder: Path) -> list[Path]:
        """Return photographs to put into a record."""
        names, _ = QFileDialog.getOpenFileNames(
            self._window, "Photographs for the record", str(folder), f"{_PHOTOGRAPHS};;All files (*)"
        )
        return [Path(name) for name in names]

    def profile_to_open(self, folder: Path) -> Path | None:
        """Return the file with a certifier's own limits."""
        return self._open("Judge under the profile in a file", folder, _PROFILES)

    def record_to_open(self, folder: Path) -> Path | None:
        """Return the record to go on with."""
        return self._open("Take up a record", folder, _RECORDS)

    def where_to_save_record(self, suggested: Path) -> Path | None:
        """Return where to save a record, with the ending of a record file."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Save the record", str(suggested), _RECORDS)
        return record_named(Path(name)) if name else None

    def where_to_put_page(self, suggested: Path) -> Path | None:
        """Return where to write pages as PDF."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Page to write", str(suggested), _PDF)
        return Path(name).with_suffix(".pdf") if name else None

    def where_to_put_report(self, suggested: Path) -> Path | None:
        """Return where to write a report, as PDF or as HTML."""
        kinds = f"{_PDF};;{_HTML}"
        name, kind = QFileDialog.getSaveFileName(self._window, "Report to write", str(suggested), kinds)
        ending = ".html" if kind == _HTML or name.lower().endswith((".html", ".htm")) else ".pdf"
        return Path(name).with_suffix(ending) if name else None

    def list_to_open(self, folder: Path) -> Path | None:
        """Return the CSV to take into the register."""
        return self._open("Take a list into the register", folder, _LISTS)

    def where_to_put_list(self, suggested: Path) -> Path | None:
        """Return where to write the register as CSV."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Register as CSV", str(suggested), _LISTS)
        return Path(name).with_suffix(".csv") if name else None

    def where_to_put_cut(self, suggested: Path) -> Path | None:
        """Return where to write a plate for the cutter, with the suggested ending."""
        name, _ = QFileDialog.getSaveFileName(self._window, "Plate for the cutter", str(suggested), _CUT)
        return Path(name).with_suffix(suggested.suffix) if name else None

    def leave_unsaved(self, title: str) -> Leaving:
        """Return what to do with work that was not saved before it goes from the window."""
        box = self._box(f"{title} has changes that are not saved: save them first?")
        save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        leave = box.addButton("Do not save", QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton("Go on drawing", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(save)
        box.setEscapeButton(stay)
        box.exec()
        if box.clickedButton() is leave:
            return "leave"
        return "save" if box.clickedButton() is save else "stay"

    def agree(self, question: str, yes: str, no: str) -> bool:
        """Return whether the user agrees to something, `no` being the way out."""
        box = self._box(question)
        agreed = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        refused = box.addButton(no, QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(refused)
        box.setEscapeButton(refused)
        box.exec()
        return box.clickedButton() is agreed

    def name(self, question: str, suggested: str) -> str:
        """Return a name the user typed; empty if it was called off."""
        typed, agreed = QInputDialog.getText(self._window, "Holdsquare", question, text=suggested)
        return typed.strip() if agreed else ""

    def _open(self, title: str, folder: Path, kinds: str) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(self._window, title, str(folder), f"{kinds};;All files (*)")
        return Path(name) if name else None

    def _box(self, question: str) -> QMessageBox:
        box = QMessageBox(self._window)
        box.setWindowTitle("Holdsquare")
        box.setText(question)
        return box


def _with_ending(path: Path) -> Path:
    if path.name.endswith(SUFFIX):
        return path
    return path.with_name(path.name.removesuffix(".json").removesuffix(".bracket") + SUFFIX)
