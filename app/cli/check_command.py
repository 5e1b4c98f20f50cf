"""`check`: bracket files in, verdicts out."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from app.cli.page import complain, page_for_stdout, say
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE, worst_exit_code
from app.report.judged_file import JudgedFile, LimitsInForce, judge_file
from app.wording.figures import Units, plain


def check(
    files: list[Path],
    *,
    as_json: bool = False,
    mesh: Path | None = None,
    units: Units = "mm",
    limits_file: Path | None = None,
    quick: bool = False,
) -> int:
    """Judge each file, print what became of it and return the exit code: 0, 1, 2 or 64."""
    limits = None
    if limits_file is not None:
        from app.cli.limits_file import LimitsFileError, read_limits

        try:
            limits = LimitsInForce(read_limits(limits_file), str(limits_file))
        except LimitsFileError as error:
            complain(str(error))
            return BAD_USAGE
    if mesh is not None and not _mesh_can_be_written(mesh, files):
        return BAD_USAGE
    judged: list[JudgedFile] = []
    codes: list[int] = []
    for number, path in enumerate(files, 1):
        label = path.name if len(files) == 1 else f"{number} of {len(files)}, {path.name}"
        with live_progress(label) as progress:
            work = partial(judge_file, path, limits=limits, quick=quick, progress=progress)
            one = stoppable(work)
        judged.append(one)
        codes.append(one.exit_code)
        if not as_json:
            _print_text(one, units, first=number == 1)
        if mesh is not None and not _write_mesh(mesh, one):
            codes.append(BAD_USAGE)
    if as_json:
        from app.cli.report_json import json_text

        say(json_text(judged, units))
    elif len(files) > 1:
        _print_summary(judged)
    return worst_exit_code(codes)


def _print_text(judged: JudgedFile, units: Units, *, first: bool) -> None:
    from app.cli.report_text import write_report

    page = page_for_stdout()
    if not first:
        page.rule()
    if judged.results is None and (judged.bracket is None or judged.exit_code == BAD_USAGE):
        _complain_of_file(judged)
        return
    write_report(page, judged, units)
    say(page.text)


def _complain_of_file(judged: JudgedFile) -> None:
    from geometry.finding import worst_first

    complain(judged.trouble)
    if judged.findings:
        from geometry.finding_words import sentence

        complain("\n".join(f"- {plain(sentence(finding))}" for finding in worst_first(judged.findings)))


def _print_summary(judged: list[JudgedFile]) -> None:
    page = page_for_stdout()
    page.rule()
    for one in judged:
        word = one.verdict.upper() if one.results is not None else "NOT JUDGED"
        page.hanging(f"{word:<11} ", one.file)
    say(page.text)


def _mesh_can_be_written(mesh: Path, files: list[Path]) -> bool:
    from app.cli.mesh_file import MeshFileError, check_mesh_path

    if len(files) > 1:
        complain("--mesh goes with one bracket file, not several: check them one by one.")
        return False
    try:
        check_mesh_path(mesh)
    except MeshFileError as error:
        complain(str(error))
        return False
    return True


def _write_mesh(mesh: Path, judged: JudgedFile) -> bool:
    from app.cli.mesh_file import MeshFileError, write_mesh

    if judged.results is None or not judged.results.plates:
        complain(f"No mesh was written to {mesh}: nothing was solved.")
        return True
    try:
        paths = write_mesh(mesh, judged.results)
    except MeshFileError as error:
        complain(str(error))
        return False
    complain(f"Mesh with displacement and stress written to {', '.join(map(str, paths))}.")
    return True
