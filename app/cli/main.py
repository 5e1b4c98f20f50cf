"""The commands and their options; the only door in.

Exit codes: 0 pass, 1 marginal or fail, 2 no verdict, 64 bad file or usage, 130 stopped by a key.
"""

from __future__ import annotations

import io
import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Final

import typer

from app.cli.layout_commands import add_layout_commands
from app.cli.lesson_commands import add_lesson_commands
from app.cli.options import (
    AsJson,
    BracketFile,
    BracketFiles,
    OtherLimits,
    PaperSize,
    PdfFile,
    RecordFile,
    ShownUnits,
    Theme,
)
from app.cli.page import complain, say
from app.cli.program_commands import add_program_commands
from app.cli.register_options import add_register_command
from app.cli.riglog_options import add_riglog_command
from app.cli.stoppable import work_left_behind
from app.cli.typed_length import length_between
from app.cli.usage import usage_sentence
from app.cli.window_command import PageName, ViewName
from app.exit_codes import BAD_USAGE, NO_VERDICT, STOPPED
from app.paper.paper_names import ReportPaper, SheetName
from app.paper.pdf_dates import forget_wrong_moment
from app.wording.fault_words import TRACE, fault_words
from app.wording.figures import Units
from app.wording.program_name import program_name

commands = typer.Typer(
    name="holdsquare",
    help="Will this bracket hold the steering-assist unit square? Bracket files in, verdicts out.",
    epilog="Exit codes: 0 pass, 1 marginal or fail, 2 no verdict, 64 bad file or usage.",
    add_completion=False,
    no_args_is_help=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return the exit code; nothing is raised."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    # names from strangers' files must not break a terminal that lacks their letters
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
    forget_wrong_moment()
    try:
        code = commands(args=_with_command(given), prog_name=program_name(), standalone_mode=False)
    except (KeyboardInterrupt, typer.Abort):
        code = STOPPED
    except typer.TyperException as error:
        complain(usage_sentence(error, given, _COMMANDS))
        return BAD_USAGE
    except BrokenPipeError:
        return 0
    except Exception as fault:  # noqa: BLE001 - the last door: a sentence, not a traceback
        return _own_fault(fault)
    if code == STOPPED:
        laddered = given[:1] == ["ladder"]
        complain(
            "Stopped; only what stands above was judged." if laddered else "Stopped; there is no verdict."
        )
        if work_left_behind():
            os._exit(STOPPED)
    return code if isinstance(code, int) else 0


def _own_fault(fault: Exception) -> int:
    if os.environ.get("HOLDSQUARE_TRACE") == "1":
        traceback.print_exc()
    complain(fault_words(fault, trace=TRACE))
    return NO_VERDICT


def _show_version(wanted: bool) -> None:
    if wanted:
        from solver.version import VERSION

        say(f"holdsquare {VERSION}")
        raise typer.Exit


@commands.callback(invoke_without_command=True)
def _start(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Print the version.")
    ] = False,
) -> int:
    if context.invoked_subcommand is not None:
        return 0
    from app.cli.window_command import open_window

    return open_window(None)


@commands.command("window")
def _window(
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="Bracket file, *.bracket.json.")
    ] = None,
) -> int:
    """Open the window; so does naming a bracket file alone, or nothing at all."""
    from app.cli.window_command import open_window

    return open_window(file)


@commands.command("picture")
def _picture(
    file: BracketFile,
    out: Annotated[Path, typer.Option("-o", "--out", metavar="OUT.png", help="Picture to write.")],
    sheet: Annotated[
        PageName,
        typer.Option(help="Page of the window to draw."),
    ] = "bracket",
    size: Annotated[str, typer.Option(metavar="WxH", help="Width and height in pixels.")] = "1280x720",
    theme: Theme = "paper",
    view: Annotated[ViewName, typer.Option(help="Which of the two views is large.")] = "flat",
    scale: Annotated[int, typer.Option(min=100, max=200, help="Per cent that all is enlarged by.")] = 100,
    units: ShownUnits = "mm",
) -> int:
    """Judge a bracket file and draw the window's sheet of it as a PNG; needs no display."""
    from app.cli.window_command import take_picture

    return take_picture(file, out, sheet=sheet, size=size, theme=theme, view=view, scale=scale, units=units)


@commands.command("check")
def _check(
    files: BracketFiles,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print JSON: one object for one file, a list for several.")
    ] = False,
    mesh: Annotated[
        Path | None,
        typer.Option(
            metavar="OUT.vtu",
            help="Write the mesh with displacement and stress; OUT-PLATE.vtu for each of several plates.",
        ),
    ] = None,
    units: Annotated[
        Units,
        typer.Option(help="Units to show. JSON keys keep the unit in their name; its checks state theirs."),
    ] = "mm",
    limits: OtherLimits = None,
    quick: Annotated[
        bool, typer.Option("--quick", help="Leave out the refinement: figures in pencil, and no verdict.")
    ] = False,
) -> int:
    """Judge bracket files: the verdict and what it rests on."""
    from app.cli.check_command import check

    return check(files, as_json=as_json, mesh=mesh, units=units, limits_file=limits, quick=quick)


@commands.command("report")
def _report(
    file: BracketFile,
    out: Annotated[Path, typer.Option("-o", "--out", metavar="OUT.pdf|OUT.html", help="File to write.")],
    record: RecordFile = None,
    profile: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Judge under the limits and cautions in this file."),
    ] = None,
    size: Annotated[ReportPaper, typer.Option(help="Paper.")] = "A4",
    units: ShownUnits = "mm",
) -> int:
    """Write what was judged and why; a PDF carries the bracket file within it. Needs no display."""
    from app.cli.report_command import report

    return report(file, out, record_file=record, profile_file=profile, size=size, units=units)


@commands.command("cut")
def _cut(
    file: BracketFile,
    out: Annotated[
        Path,
        typer.Option(
            "-o",
            "--out",
            metavar="OUT.svg|OUT.dxf",
            help="File to write; OUT-PLATE.svg for each of several plates.",
        ),
    ],
    plate: Annotated[str | None, typer.Option(metavar="NAME", help="Write this plate alone.")] = None,
    older: Annotated[bool, typer.Option("--older", help="DXF for older machines (R12).")] = False,
) -> int:
    """Write plates for a cutter, 1:1 in mm: lines to cut, to fold along and to mark."""
    from app.cli.cut_command import cut

    return cut(file, out, plate=plate, older=older)


@commands.command("record")
def _record(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Somebody's bracket file; it is only read.")],
    record: RecordFile = None,
    profile: Annotated[
        Path | None,
        typer.Option(metavar="P.json", help="Certifier's own limits, factors, lines and cautions."),
    ] = None,
    new: Annotated[bool, typer.Option("--new", help="Begin a record, with everything open.")] = False,
    letter: Annotated[
        Path | None, typer.Option(metavar="OUT.pdf", help="Write the letter of open items to the builder.")
    ] = None,
    sheet: Annotated[
        Path | None, typer.Option(metavar="OUT.pdf", help="Write the sheet to fill by hand at the car.")
    ] = None,
    as_json: AsJson = False,
    units: Annotated[Units, typer.Option(help="Units to show, on pages too; JSON has mm.")] = "mm",
) -> int:
    """Hold a builder's claim against what is computed now, and tell what is open in the record."""
    from app.cli.record_command import Papers, run_record

    papers = Papers(letter, sheet)
    return run_record(
        file, record, profile_file=profile, new=new, papers=papers, as_json=as_json, units=units
    )


@commands.command("paper")
def _paper(
    out: PdfFile,
    sheet: Annotated[
        SheetName,
        typer.Option(help="What to print."),
    ],
    file: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help="Bracket file; none for a blank measuring sheet."),
    ] = None,
    size: PaperSize = "A4",
    arm: Annotated[
        float,
        typer.Option(
            parser=length_between(50.0, 3000.0),
            metavar="LENGTH",
            help="Arm of the proof's lever: mm, or such as '20 in'.",
        ),
    ] = 500.0,
    units: Annotated[Units, typer.Option(help="Units to show; a template stays 1:1.")] = "mm",
) -> int:
    """Write paper for the workshop and the proof in the car as PDF, 1:1; needs no display."""
    from app.cli.paper_command import write

    return write(file, out, sheet=sheet, size=size, arm_mm=arm, units=units)


add_program_commands(commands)
add_layout_commands(commands)
add_riglog_command(commands)
add_register_command(commands)
add_lesson_commands(commands)

_COMMANDS: Final = tuple(one.name for one in commands.registered_commands if one.name)


def _with_command(given: list[str]) -> list[str]:
    """Return the arguments with the command that a file named alone stands for."""
    if given and given[0] not in _COMMANDS and (given[0].endswith(".json") or _is_file(given[0])):
        return ["window", *given]
    return given


def _is_file(word: str) -> bool:
    try:
        return Path(word).is_file()
    except (OSError, ValueError):
        return False
