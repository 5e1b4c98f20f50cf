"""A picture of the window's sheet without any display: the same widgets, drawn into a PNG file."""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Final

from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from solver.stage_clock import Progress

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication

    from app.window.main_window import MainWindow
    from app.window.mounted_view import MountedView

_MOST_WAIT_S: Final = 30.0
"""For the view as mounted to be painted; without OpenGL in time it is drawn as lines."""


def take_picture(
    file: Path,
    out: Path,
    *,
    sheet: str,
    pixels: tuple[int, int],
    theme: str,
    view: str,
    scale: int,
    units: Units,
    progress: Progress | None,
) -> str:
    """Judge the bracket in a file and write a picture of the sheet; return what went wrong, or nothing."""
    reading = read_bracket(file)
    if reading.bracket is None:
        return f"{file.name} cannot be drawn: {reading.sentences[0]}"
    os.environ["QT_QPA_PLATFORM"] = "offscreen"
    os.environ["QT_SCALE_FACTOR"] = f"{scale / 100:g}"
    with tempfile.TemporaryDirectory() as folder:
        # a picture neither reads nor changes what the user keeps
        os.environ["HOLDSQUARE_DATA"] = folder
        return _drawn(reading.bracket, file, out, (sheet, view, theme, units), pixels, scale, progress)


def _drawn(
    bracket: Bracket,
    file: Path,
    out: Path,
    wanted: tuple[str, str, str, Units],
    pixels: tuple[int, int],
    scale: int,
    progress: Progress | None,
) -> str:
    from app.files.settings import Settings
    from app.window.application import application
    from app.window.beside.beside_judge import StillBesideJudge
    from app.window.inspection.still_inspection import StillInspection, nobody_asked
    from app.window.main_window import MainWindow
    from app.window.picture_file import picture_written
    from app.window.still_judge import StillJudge
    from geometry.findings import can_be_analysed, findings_of
    from solver.analyse import analyse

    sheet, view, theme, units = wanted
    judged = sheet != "record" and can_be_analysed(findings_of(bracket))  # the record has its own
    results = analyse(bracket, progress=progress) if judged else None
    program = application(["holdsquare"])
    judge = StillJudge()
    settings = Settings.model_validate({"look": theme, "units": units})
    window = MainWindow(settings, judge, nobody_asked(), StillInspection(), StillBesideJudge())
    window.resize(round(pixels[0] * 100 / scale), round(pixels[1] * 100 / scale))
    if view == "mounted":
        window.page.views.swap()
    window.show()
    window.verdicts.begin()
    window.files.open_path(file)
    if results is not None:
        judge.ink.emit(results)
    if sheet == "side by side":
        _turn_to_side_by_side(window, program, progress)
    elif sheet == "record":
        _turn_to_record(window, program, file, progress)
    elif sheet == "lesson":
        _turn_to_lesson(window, program)
    else:
        _wait_until_painted(window.page.mounted, program)
    picture = window.grab()
    window.close()
    return picture_written(picture, out)


def _turn_to_side_by_side(window: MainWindow, program: QApplication, progress: Progress | None) -> None:
    """Turn to the page and judge what lies there: the file's variants, or the sawn twin if it has none."""
    from app.window.beside.beside_judge import StillBesideJudge
    from solver.analyse import analyse

    window.edges.turn_to_words("Side by side")
    page = window.beside
    if not page.chosen.others:
        page.add_sawn_twin()
    judge = page.judge
    if isinstance(judge, StillBesideJudge):
        for bracket in judge.wanted:
            judge.judged.emit(analyse(bracket, progress=progress), False)
    for pane in page.panes:
        _wait_until_painted(pane.view, program)


def _turn_to_record(window: MainWindow, program: QApplication, file: Path, progress: Progress | None) -> None:
    """Turn to the page and compute all that the record beside the file rests on."""
    from app.record.judging import judged_for

    window.edges.turn_to_words("Record")
    page = window.record
    page.open_path(file)
    desk = page.desk
    judged = judged_for(
        desk.bracket, desk.record, desk.profile, file_findings=desk.findings, progress=progress
    )
    desk.take_judgements(judged)
    program.processEvents()


def _turn_to_lesson(window: MainWindow, program: QApplication) -> None:
    """Turn to the page and wait until its view is painted, or is not going to be."""
    window.edges.turn_to_words("Lesson")
    program.processEvents()
    _wait_until_painted(window.lesson.board.view, program)


def _wait_until_painted(view: MountedView, program: QApplication) -> None:
    """Let the program run until the view as mounted is finished, or is not going to be."""
    painted: list[bool] = []
    view.painted.connect(lambda: painted.append(True))
    until = time.monotonic() + _MOST_WAIT_S
    for _ in range(2):  # what is finished first may have been asked for before the sheet had its size
        painted.clear()
        view.ask()
        while not painted and time.monotonic() < until:
            view.play(on=False)  # while it moves it is never finished
            program.processEvents()
            time.sleep(0.005)
