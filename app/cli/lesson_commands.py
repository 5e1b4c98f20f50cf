"""`motion`, `handout` and `questions` with their options: what a trainer hands out."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.cli.options import BracketFile, PaperSize, PdfFile, Theme
from app.wording.figures import Units

_Turned = Annotated[
    bool, typer.Option("--turned", help="Judge the same plate along the shaft too: twice the time.")
]
_Units = Annotated[Units, typer.Option(help="Units to show; with inches both are told.")]


def add_lesson_commands(commands: typer.Typer) -> None:
    """Add the commands to the others."""
    commands.command("motion")(_motion)
    commands.command("handout")(_handout)
    commands.command("questions")(_questions)


def _motion(
    file: BracketFile,
    out: Annotated[
        Path, typer.Option("-o", "--out", metavar="OUT.gif|OUT.png", help="Moving picture, or strip.")
    ],
    free: Annotated[int | None, typer.Option(min=1, metavar="N", help="Free motion, from 1.")] = None,
    case: Annotated[str | None, typer.Option(metavar="NAME", help="Load case, such as 'couple +'.")] = None,
    theme: Theme = "paper",
) -> int:
    """Draw how a bracket moves, as a GIF or a strip of pictures; needs no display.

    Without --free or --case: its first free motion, or the load case that moves it most.
    """
    from app.cli.motion_command import write_motion

    return write_motion(file, out, free=free, case=case, theme=theme)


def _handout(
    file: BracketFile, out: PdfFile, turned: _Turned = False, size: PaperSize = "A4", units: _Units = "mm"
) -> int:
    """Write a hand-out of two pages about a bracket: its figures, its linkage, its verdict."""
    from app.cli.lesson_paper_command import write_lesson_paper

    return write_lesson_paper(file, out, sheet="handout", size=size, units=units, turned=turned)


def _questions(
    file: BracketFile,
    out: PdfFile,
    answers: Annotated[bool, typer.Option("--answers", help="With the answers, for the trainer.")] = False,
    turned: _Turned = False,
    size: PaperSize = "A4",
    units: _Units = "mm",
) -> int:
    """Write a question sheet made from a bracket, with or without its answers."""
    from app.cli.lesson_paper_command import write_lesson_paper

    sheet = "answers" if answers else "questions"
    return write_lesson_paper(file, out, sheet=sheet, size=size, units=units, turned=turned)
