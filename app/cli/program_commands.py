"""`schema`, `materials`, `bolts`, `associate`, `bundle`: the tables, and the program on a machine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.cli.options import AsJson
from app.cli.tables_command import SchemaOf


def add_program_commands(commands: typer.Typer) -> None:
    """Add the commands to the others."""
    commands.command("schema")(_schema)
    commands.command("materials")(_materials)
    commands.command("bolts")(_bolts)
    commands.command("associate")(_associate)
    commands.command("bundle")(_bundle)


def _schema(
    of: Annotated[
        SchemaOf, typer.Argument(metavar="[bracket|limits|record|profile]", help="Kind of file.")
    ] = "bracket",
) -> int:
    """Print the JSON Schema of a kind of file."""
    from app.cli.tables_command import print_schema

    return print_schema(of)


def _materials(as_json: AsJson = False) -> int:
    """List the sheet metals, with the source of each figure."""
    from app.cli.tables_command import print_materials

    return print_materials(as_json=as_json)


def _bolts(as_json: AsJson = False) -> int:
    """List the bolt sizes and grades, with the source of each column."""
    from app.cli.tables_command import print_bolts

    return print_bolts(as_json=as_json)


def _associate(
    remove: Annotated[bool, typer.Option("--remove", help="Undo it.")] = False,
) -> int:
    """Let this user's Linux desktop open bracket files with the window."""
    from app.cli.associate_command import run_associate

    return run_associate(remove=remove)


def _bundle(
    out: Annotated[
        Path, typer.Option("-o", "--out", metavar="FOLDER", help="Folder to make the folder holdsquare in.")
    ] = Path("dist"),
) -> int:
    """Build a folder with the program for machines without Python, for the system this runs on."""
    from app.cli.bundle_command import run_bundle

    return run_bundle(out)
