"""`around`: what stands around the bracket, without judging the bracket itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from app.cli.page import complain, page_for_stdout, say
from app.cli.report_json import around_object
from app.cli.strict_json import strict_json
from app.cli.whole_bracket import reading_of
from app.exit_codes import BAD_USAGE, NO_VERDICT, NOT_PASSED, PASS
from app.files.files_error import FilesError
from app.files.named_file import why_no_picture, write_named
from app.files.near_names import missing_file_sentence
from app.theme import ThemeName, theme
from app.wording.around_words import STANDING_MARKS
from app.wording.figures import Units, sentence_in_units
from solver.around.line import SECOND_OPINION, STANDINGS

if TYPE_CHECKING:
    from geometry.bracket import Bracket
    from solver.around.line import AroundLine

_CODES: Final = {"fails": NOT_PASSED, "broken": NOT_PASSED, "open": NO_VERDICT, "met": PASS, "told": PASS}


def around_file(file: Path, *, as_json: bool, picture: Path | None, look: ThemeName, units: Units) -> int:
    """Print what stands around a bracket; return 0 all met, 1 fails or broken, 2 open, 64 bad file."""
    bracket = _bracket(file)
    if bracket is None:
        return BAD_USAGE
    if picture is not None:
        if trouble := why_no_picture(picture):
            complain(trouble)
            return BAD_USAGE
        if not _write_picture(bracket, picture, look):
            return BAD_USAGE
    from solver.around.around import around

    lines = around(bracket)
    if as_json:
        say(strict_json({"file": str(file), "around": [around_object(line) for line in lines]}))
    else:
        _print(bracket, lines, units)
    standings = {line.standing for line in lines}
    return next((_CODES[s] for s in STANDINGS if s in standings), PASS)


def _bracket(file: Path) -> Bracket | None:
    if trouble := missing_file_sentence(file):
        complain(trouble)
        return None
    reading = reading_of(file)
    if reading is None:
        return None
    for sentence, finding in zip(reading.sentences, reading.findings, strict=True):
        if finding.bars_verdict:
            complain(f"{file.name}: {sentence}")
    return reading.bracket


def _write_picture(bracket: Bracket, out: Path, look: ThemeName) -> bool:
    from app.around.around_picture import around_png

    try:
        write_named(out, around_png(bracket, theme(look)))
    except FilesError as error:
        complain(str(error))
        return False
    return True


def _print(bracket: Bracket, lines: tuple[AroundLine, ...], units: Units) -> None:
    page = page_for_stdout()
    page.line(f"Around {bracket.title}", style="bold")
    page.line(SECOND_OPINION)
    for group in dict.fromkeys(line.group for line in lines):
        page.heading(group[0].upper() + group[1:])
        for line in sorted((x for x in lines if x.group == group), key=lambda x: STANDINGS.index(x.standing)):
            words = sentence_in_units(f"{line.name}: {line.words}", units)
            source = f" Source: {line.source}." if line.source else ""
            page.hanging(f"  {STANDING_MARKS[line.standing]:<7}", f"{words}.{source}")
    say(page.text)
