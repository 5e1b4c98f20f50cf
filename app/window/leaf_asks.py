"""Asks for files that leaves of a page read or write; tests answer in its place."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget


class LeafAsks:
    """Asks over the widget that wants the file."""

    def log_to_open(self, over: QWidget, folder: Path) -> Path | None:
        """Return the rig's log to open; None if it was called off."""
        name, _ = QFileDialog.getOpenFileName(
            over, "Open a rig's log", str(folder), "Logs (*.csv *.txt *.tsv *.dat);;All files (*)"
        )
        return Path(name) if name else None

    def where_to_put_ladder(self, over: QWidget, suggested: Path) -> Path | None:
        """Return where to write a ladder as CSV."""
        name, _ = QFileDialog.getSaveFileName(over, "Ladder as CSV", str(suggested), "Tables (*.csv)")
        return Path(name).with_suffix(".csv") if name else None

    def where_to_put_lesson(self, over: QWidget, suggested: Path) -> Path | None:
        """Return where to write something for a class, with the suggested ending."""
        kinds = f"Files (*{suggested.suffix})"
        name, _ = QFileDialog.getSaveFileName(over, "For the class", str(suggested), kinds)
        return Path(name).with_suffix(suggested.suffix) if name else None
