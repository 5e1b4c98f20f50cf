"""Options that several commands have alike, so that they are said in the same words everywhere."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from app.wording.figures import Units

BracketFile = Annotated[Path, typer.Argument(metavar="FILE", help="Bracket file, *.bracket.json.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]
ShownUnits = Annotated[Units, typer.Option(help="Units to show; JSON has mm.")]
RecordFile = Annotated[
    Path | None,
    typer.Option("--record", metavar="R.record.json", help="Record; else the one beside the file."),
]
PictureTheme = Annotated[
    Literal["paper", "slate"], typer.Option(help="Ink on paper or chalk on slate, for the picture.")
]
Theme = Annotated[Literal["paper", "slate"], typer.Option(help="Ink on paper or chalk on slate.")]
