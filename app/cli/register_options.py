"""`register` with its options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

import typer

from app.cli.options import AsJson


def add_register_command(commands: typer.Typer) -> None:
    """Add the command to the others."""
    commands.command("register")(_register)


def _register(
    doing: Annotated[
        Literal["list", "add", "show", "search", "export", "import"],
        typer.Argument(metavar="[list|add|show|search|export|import]", help="What to do; list if not said."),
    ] = "list",
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[WHAT...]",
            help="Records or brackets to add, an entry's number, words to search, or a CSV file.",
        ),
    ] = None,
    file: Annotated[
        Path | None, typer.Option("--file", metavar="PATH", help="Register to use, not the user's own.")
    ] = None,
    profile: Annotated[
        Path | None,
        typer.Option(metavar="P.json", help="Profile that a bracket is judged under as it is added."),
    ] = None,
    as_written: Annotated[
        bool, typer.Option("--as-written", help="Add what a record says, without judging its bracket again.")
    ] = False,
    as_json: AsJson = False,
) -> int:
    """Keep the list of inspected brackets: decisions, dates, verdicts, and what is overdue."""
    from app.cli.register_command import run_register

    return run_register(
        doing, words or (), file=file, profile=profile, as_written=as_written, as_json=as_json
    )
