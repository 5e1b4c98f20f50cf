"""`riglog` with its options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from app.cli.options import AsJson, PictureTheme
from app.cli.typed_length import length_between
from app.wording.figures import Units

_Pairs = list[str] | None


def add_riglog_command(commands: typer.Typer) -> None:
    """Add the command to the others."""
    commands.command("riglog")(_riglog)


def _riglog(
    file: Annotated[Path, typer.Argument(metavar="CSV", help="Log of a test rig, a line for each reading.")],
    bracket: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Bracket file to hold the log against.")
    ] = None,
    columns: Annotated[
        _Pairs,
        typer.Option(
            metavar="WHAT=NAME,...",
            help="Which is time, output, input, couple, force, arm, gauge, angle, speed; arm_mm=250.",
        ),
    ] = None,
    units: Annotated[
        _Pairs,
        typer.Option(
            metavar="WHAT=UNIT,...", help="Such as output=lbf.ft; inch alone shows inches beside mm."
        ),
    ] = None,
    signs: Annotated[_Pairs, typer.Option(metavar="WHAT=+|-,...", help="Turn a channel round.")] = None,
    zero: Annotated[
        _Pairs, typer.Option(metavar="WHAT=NUMBER,...", help="Zeros, instead of those read at rest.")
    ] = None,
    kind: Annotated[
        Literal["couple", "bracket"] | None, typer.Option("--as", help="Kind of log, if columns do not tell.")
    ] = None,
    gauge_arm: Annotated[
        float | None,
        typer.Option(
            parser=length_between(1.0, 5000.0),
            metavar="LENGTH",
            help="The gauge's distance from the shaft axis: mm, or such as '16 in'.",
        ),
    ] = None,
    as_json: AsJson = False,
    picture: Annotated[Path | None, typer.Option(metavar="OUT.png", help="Draw the log.")] = None,
    theme: PictureTheme = "paper",
    out: Annotated[
        Path | None,
        typer.Option("-o", "--out", metavar="OUT.bracket.json", help="Write the bracket with this couple."),
    ] = None,
    follow: Annotated[
        bool, typer.Option("--follow", help="Read on while the log grows, until Ctrl-C.")
    ] = False,
) -> int:
    """Read a test rig's log: couple and its peak, or a bracket's stiffness and dead band.

    Columns, units and signs are asked once and remembered for logs with the same names. Exit codes: 0 it says
    so, 2 its readings cannot, 64 bad usage or a log that cannot be read.
    """
    from app.cli.riglog_command import RigOptions, riglog

    of_channels = tuple(word for word in units or () if word not in ("mm", "inch"))
    shown: Units = "inch" if "inch" in (units or ()) else "mm"
    return riglog(
        file,
        RigOptions(
            bracket=bracket,
            columns=tuple(columns or ()),
            units=of_channels,
            shown=shown,
            signs=tuple(signs or ()),
            zero=tuple(zero or ()),
            kind=kind or "",
            gauge_arm_mm=gauge_arm,
            as_json=as_json,
            picture=picture,
            out=out,
            theme=theme,
            follow=follow,
        ),
    )
