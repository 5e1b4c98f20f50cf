"""What leaves the window for the workshop: paper as PDF, and files for the cutter."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final, get_args

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication

from app.window.action import Choice
from app.window.asks import Asks
from app.window.door import Door
from app.window.file_desk import FileDesk
from app.window.seeing import Seeing
from app.window.verdict_flow import VerdictFlow
from app.window.worded import worded
from geometry.bracket_file import SUFFIX
from geometry.finding_words import sentence
from geometry.findings import can_be_analysed, findings_of
from solver.results import Results

if TYPE_CHECKING:
    from app.paper.job import PaperJob
    from geometry.bracket import Bracket
    from solver.trials import Trial

_SHEETS: Final = {
    "measuring": "Measuring sheet, to take under the dash…",
    "template": "Cutting template, full size…",
    "drawing": "Drawing with parts and bends…",
    "assembly": "Assembly card…",
    "proof": "Proof card, for a mass on a lever…",
}
_CUTS: Final = {
    "svg": "SVG in mm",
    "dxf": "DXF",
    "older": "DXF for older machines",
}
_NO_INK: Final = "The verdict in ink is not there yet: wait for it, so that the paper says what was computed."


class PaperDesk(QObject):
    """Asks where to, writes, and says in one sentence what was written or what went wrong."""

    told = Signal(str)

    def __init__(
        self,
        door: Door,
        verdicts: VerdictFlow,
        files: FileDesk,
        seeing: Seeing,
        asks: Asks,
        parent: QObject | None = None,
        *,
        trials_of: Callable[[Bracket], tuple[Trial, ...]] = lambda _: (),
    ) -> None:
        """Write what the window shows; `trials_of` tells what was found of one input at a time."""
        super().__init__(parent)
        self._trials_of = trials_of
        self._door, self._verdicts, self._files = door, verdicts, files
        self._seeing, self._asks = seeing, asks

    def sheet_choices(self) -> list[Choice]:
        """Return the sheets there are."""
        return [Choice(words, name) for name, words in _SHEETS.items()]

    def write_sheet(self, name: str) -> None:
        """Write a sheet of the bracket as it stands as PDF where the user says."""
        self._files.settling.emit()
        from app.paper.paper_file import write_paper
        from app.paper.paper_names import SheetName
        from app.paper.pdf import PaperError

        sheet: SheetName = next(s for s in get_args(SheetName) if s == name)
        if sheet != "measuring" and self._read_in_part():
            return
        results = self._ink()
        if sheet == "proof" and results is None:
            self.told.emit(_NO_INK)
            return
        path = self._asks.where_to_put_page(self._beside(f"{self._stem} {sheet}.pdf"))
        if path is None:
            return
        QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
        try:
            write_paper(self._job(results), sheet, path)
        except PaperError as error:
            self.told.emit(str(error))
        else:
            self._door.tell(worded("Written to {path}.", path=path))
        finally:
            QGuiApplication.restoreOverrideCursor()

    def write_report(self) -> None:
        """Write the report of the bracket as it stands where the user says."""
        self._files.settling.emit()
        from app.window.report_writing import NO_INK, report_job, written

        bracket, results = self._door.bracket, self._ink()
        if results is None and can_be_analysed(findings_of(bracket)):
            self.told.emit(NO_INK)
            return
        path = self._asks.where_to_put_report(self._beside(f"{self._stem} report.pdf"))
        if path is None:
            return
        about_file = self._verdicts.file_findings
        job = report_job(
            bracket,
            results,
            file=self._file_name,
            file_findings=about_file,
            inch=self._seeing.inch,
            trials=self._trials_of(bracket),
        )
        self.told.emit(written(job, path))

    def cut_choices(self) -> list[Choice]:
        """Return each plate as each kind of file."""
        return [
            Choice(f"{plate.name}: {words}…", f"{kind} {plate.name}")
            for plate in self._door.bracket.plates
            for kind, words in _CUTS.items()
        ]

    def write_cut(self, choice: str) -> None:
        """Write one plate for the cutter where the user says."""
        self._files.settling.emit()
        from app.cutting.cut_file import CutFileError, write_cut

        if self._read_in_part():
            return
        kind, name = choice.split(" ", 1)
        ending = ".svg" if kind == "svg" else ".dxf"
        path = self._asks.where_to_put_cut(self._beside(f"{self._stem} {name}{ending}"))
        if path is None:
            return
        try:
            write_cut(self._door.bracket.plate(name), path, older=kind == "older")
        except CutFileError as error:
            self.told.emit(str(error))
        else:
            self._door.tell(worded("Written to {path}: lines CUT, FOLD and MARK, in mm.", path=path))

    def _read_in_part(self) -> bool:
        """Return whether a part of the file is missing on the sheet, having said so: nothing is cut so."""
        stops = [finding for finding in self._verdicts.file_findings if finding.severity == "stop"]
        if stops:
            words = "The file was read only in part, so nothing is cut or built by it: {sentence}"
            self.told.emit(worded(words, sentence=sentence(stops[0])))
        return bool(stops)

    def _ink(self) -> Results | None:
        """Return the results in ink of the bracket as it stands; None if there are none."""
        results = self._verdicts.results
        if results is None or results.hash != self._door.bracket.input_hash():
            return None
        return results if results.accuracy.refined else None

    def _job(self, results: Results | None) -> PaperJob:
        from app.paper.job import PaperJob
        from app.paper.pdf_dates import today

        return PaperJob(
            bracket=self._door.bracket,
            file=self._file_name,
            date=today(),
            paper="Letter" if self._seeing.inch else "A4",
            results=results,
            units="inch" if self._seeing.inch else "mm",
        )

    @property
    def _file_name(self) -> str:
        path = self._files.path
        return f"{self._stem}{SUFFIX}" if path is None else path.name

    @property
    def _stem(self) -> str:
        path = self._files.path
        return self._files.name if path is None else path.name.removesuffix(SUFFIX)

    def _beside(self, name: str) -> Path:
        path = self._files.path
        return (Path.home() if path is None else path.parent) / name.replace("/", "-")
