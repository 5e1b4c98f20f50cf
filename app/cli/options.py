"""Options that several commands have alike, so that they are said in the same words everywhere."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.paper.paper_names import PaperName
from app.theme import ThemeName
from app.wording.figures import Units

BracketFile = Annotated[Path, typer.Argument(metavar="FILE", help="Bracket file, *.bracket.json.")]
BracketFiles = Annotated[list[Path], typer.Argument(metavar="FILE...", help="Bracket files, *.bracket.json.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
ShownUnits = Annotated[Units, typer.Option(help="Units to show.")]
UnitsBesideJson = Annotated[Units, typer.Option(help="Units to show; JSON has mm.")]
OtherLimits = Annotated[
    Path | None,
    typer.Option(
        "--limits", metavar="FILE", help="Judge under the limits in this file, not the bracket's own."
    ),
]
RecordFile = Annotated[
    Path | None,
    typer.Option("--record", metavar="R.record.json", help="Record; else the one beside the file."),
]
PictureTheme = Annotated[ThemeName, typer.Option(help="Ink on paper or chalk on slate, for the picture.")]
Theme = Annotated[ThemeName, typer.Option(help="Ink on paper or chalk on slate.")]
PdfFile = Annotated[Path, typer.Option("-o", "--out", metavar="OUT.pdf", help="PDF to write.")]
PaperSize = Annotated[PaperName, typer.Option(help="Paper to print on.")]
