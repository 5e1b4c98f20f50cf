"""Where pages and lists of an inspection go: asked for, written, told."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from app.files.data_folder import working_folder
from app.paper.record_page import PaperNotWritten, write_page
from app.record.letter import PaperSheet, sheet_in_units
from app.window.asks import Asks
from app.window.inspection.desk import InspectionDesk
from app.window.worded import worded


class Outputs:
    """Asks beside the bracket's file, and tells what came of it."""

    def __init__(self, desk: InspectionDesk, asks: Asks) -> None:
        self._desk, self._asks = desk, asks

    @property
    def folder(self) -> Path:
        """Return the folder of the bracket's file."""
        return working_folder() if self._desk.path is None else self._desk.path.parent

    @property
    def _stem(self) -> str:
        path = self._desk.path
        return "bracket" if path is None else path.name.removesuffix(".json").removesuffix(".bracket")

    def write(self, sheet: PaperSheet, name: str, *, inch: bool) -> None:
        """Ask where to write a page, and write it; for an inch reader in inches too."""
        out = self._asks.where_to_put_page(self.folder / f"{self._stem}_{name}.pdf")
        if out is None:
            return
        try:
            write_page(sheet_in_units(sheet, "inch" if inch else "mm"), out)
        except PaperNotWritten as error:
            self._desk.told.emit(f"{error}.")
        else:
            self._desk.told.emit(worded("Written to {out}.", out=out))

    def report(self, *, inch: bool) -> None:
        """Ask where to write the report with the record in it, and write it."""
        from app.record.profile import under
        from app.report.job import RecordPart
        from app.window.report_writing import NO_INK, report_job, written

        desk = self._desk
        judged = under(desk.bracket, desk.profile).input_hash()
        if desk.results is None or desk.results.hash != judged:
            self._desk.told.emit(NO_INK)
            return
        name = "bracket" if desk.path is None else desk.path.name
        out = self._asks.where_to_put_report(self.folder / f"{self._stem}_report.pdf")
        if out is None:
            return
        job = report_job(
            desk.bracket,
            desk.results,
            file=name,
            file_findings=desk.findings,
            profile=desk.profile,
            part=RecordPart(desk.record, desk.items, desk.standing, desk.comparison),
            inch=inch,
            record_findings=desk.record_findings,
        )
        desk.told.emit(written(job, out))

    def list_out(self, write: Callable[[Path], None]) -> None:
        """Ask where to write the register as CSV, and have it written."""
        path = self._asks.where_to_put_list(self.folder / "register.csv")
        if path is not None:
            write(path)

    def list_in(self, take: Callable[[Path], None]) -> None:
        """Ask for a CSV, and have it taken into the register."""
        path = self._asks.list_to_open(self.folder)
        if path is not None:
            take(path)
