"""`compare`, `ladder`, `sensitivity` and `around` with their options: what one layout is held against."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.cli.options import (
    AsJson,
    BracketFile,
    BracketFiles,
    OtherLimits,
    PictureTheme,
    UnitsBesideJson,
)
from app.wording.figures import Units


def add_layout_commands(commands: typer.Typer) -> None:
    """Add the commands to the others."""
    commands.command("compare")(_compare)
    commands.command("ladder")(_ladder)
    commands.command("around")(_around)
    commands.command("sensitivity")(_sensitivity)


def _compare(
    files: BracketFiles,
    as_json: AsJson = False,
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
    theme: PictureTheme = "paper",
    units: UnitsBesideJson = "mm",
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


def _around(
    file: BracketFile,
    as_json: AsJson = False,
    picture: Annotated[
        Path | None, typer.Option(metavar="OUT.png", help="Draw the shaft's evenness and what slides.")
    ] = None,
    theme: PictureTheme = "paper",
    units: UnitsBesideJson = "mm",
) -> int:
    """Tell what stands around the bracket: shaft joints, cable and fuse, collapse travel, room.

    Exit codes: 0 all met, 1 something fails or is broken, 2 something is open, 64.
    """
    from app.cli.around_command import around_file

    return around_file(file, as_json=as_json, picture=picture, look=theme, units=units)


def _sensitivity(
    file: BracketFile,
    as_json: AsJson = False,
    limits: OtherLimits = None,
    units: UnitsBesideJson = "mm",
) -> int:
    """Change one input at a time: what the verdict is then, and from where on it is another."""
    from app.cli.sensitivity_command import sensitivity

    return sensitivity(file, as_json=as_json, limits_file=limits, units=units)


def _ladder(
    file: Annotated[Path | None, typer.Argument(metavar="FILE", help="Bracket file, *.bracket.json.")] = None,
    vary: Annotated[
        list[str] | None,
        typer.Option(metavar="KEY=A,B,C", help="What to vary, such as plate.thickness=3,4,5; any product."),
    ] = None,
    keys: Annotated[bool, typer.Option("--keys", help="List what can be varied.")] = False,
    csv: Annotated[Path | None, typer.Option(metavar="OUT.csv", help="Write the table as CSV.")] = None,
    picture: Annotated[Path | None, typer.Option(metavar="OUT.png", help="Draw the curve.")] = None,
    theme: PictureTheme = "paper",
    as_json: AsJson = False,
    jobs: Annotated[
        int, typer.Option(min=0, max=256, help="Processes on this machine; 0 takes every core.")
    ] = 0,
    workers: Annotated[
        int, typer.Option(min=0, max=256, help="Judge in a local cluster of so many workers.")
    ] = 0,
    scheduler: Annotated[
        str,
        typer.Option(metavar="tcp://HOST:PORT", help="Judge on the machines behind your own scheduler."),
    ] = "",
    afresh: Annotated[
        bool, typer.Option("--afresh", help="Judge again what was judged earlier with the same inputs.")
    ] = False,
    units: Annotated[Units, typer.Option(help="Units to show; JSON, table and curve have mm.")] = "mm",
) -> int:
    """Find the least plate, bolt, bend or bar that passes: every step judged, table and curve.

    Ctrl-C ends it with what is there. Exit codes: 0 a step passes, 1 none does, 2 no verdict, 64, 130.
    """
    from app.cli.ladder_command import LadderOptions, ladder, print_keys

    if keys:
        return print_keys()
    if file is None or not vary:
        raise typer.BadParameter("ladder needs a bracket file and what to vary: --vary plate.thickness=3,4,5")
    options = LadderOptions(csv, picture, theme, as_json, jobs, workers, scheduler, afresh, units)
    return ladder(file, vary, options)
