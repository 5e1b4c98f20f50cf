"""Live progress on standard error, only where somebody can see it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def live_progress(label: str) -> Iterator[Callable[[str, float], None] | None]:
    """Yield what takes (stage in words, share done) and shows it on a line that is gone afterwards.

    None where standard error is no terminal.
    """
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    from app.wording.figures import plain

    console = Console(stderr=True, markup=False, highlight=False, emoji=False)
    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(bar_width=24, style="dim", complete_style="bold", finished_style="bold"),
        TimeElapsedColumn(),
    )
    name = plain(label)
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task(name, total=1.0)

        def show(stage: str, share: float) -> None:
            bar.update(task, description=f"{name}: {stage}", completed=min(max(share, 0.0), 1.0))

        yield show
