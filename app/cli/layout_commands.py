"""`compare` and `ladder` with their options: layouts held against one another."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from app.wording.figures import Units


def add_layout_commands(commands: typer.Typer) -> None:
    """Add the commands to the others."""
    commands.command("compare")(_compare)


def _compare(
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="Bracket files, *.bracket.json.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
    variant: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help="Take in this variant kept in a file; as often as needed."),
    ] = None,
    sawn: Annotated[
        bool, typer.Option("--sawn", help="Take in each file's sawn twin: its plate cut in two.")
    ] = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.png", help="Draw them as mounted, at one scale.")
    ] = None,
    theme: Annotated[
        Literal["paper", "slate"], typer.Option(help="Ink on paper or chalk on slate, for the picture.")
    ] = "paper",
    units: Annotated[Units, typer.Option(help="Units to show; JSON has mm.")] = "mm",
) -> int:
    """Lay two to four layouts side by side: every figure, what differs, which is better and why.

    One file alone is compared with the variants kept in it. The exit code is that of the worst of them.
    """
    from app.cli.compare_command import compare

    return compare(
        files,
        variants=variant or [],
        sawn=sawn,
        as_json=as_json,
        picture=picture,
        theme=theme,
        units=units,
    )
