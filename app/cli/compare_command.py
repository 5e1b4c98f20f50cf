"""`compare`: two to four layouts side by side."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.page import complain, page_for_stdout, say
from app.cli.progress_line import live_progress
from app.cli.stoppable import stoppable
from app.exit_codes import BAD_USAGE, worst_exit_code
from app.files.files_error import FilesError
from app.files.named_file import why_no_picture
from app.report.judged_file import JudgedFile, judge_bracket, read_file
from app.theme import theme as theme_named
from app.wording.figures import Units

if TYPE_CHECKING:
    from app.compare.comparison import Comparison
    from app.compare.layout import Layout


def compare(
    files: list[Path],
    *,
    variants: list[str],
    sawn: bool = False,
    as_json: bool = False,
    picture: Path | None = None,
    theme: str = "paper",
    units: Units = "mm",
) -> int:
    """Judge layouts, print them side by side and return the exit code: the worst of them, or 64."""
    if picture is not None and (trouble := why_no_picture(picture)):
        complain(trouble)
        return BAD_USAGE
    known = [read_file(path) for path in files]
    if bad := [one for one in known if one.trouble]:
        complain("\n".join(one.whole_trouble for one in bad))
        return BAD_USAGE
    try:
        chosen = _chosen(known, variants, sawn=sawn)
    except _UsageError as error:
        complain(str(error))
        return BAD_USAGE
    return _compared(chosen, as_json=as_json, picture=picture, theme=theme, units=units)


def _compared(
    chosen: list[tuple[JudgedFile, Layout]], *, as_json: bool, picture: Path | None, theme: str, units: Units
) -> int:
    from app.compare.comparison import compare as laid_side_by_side
    from app.compare.judged import Judged

    files, judged = [], []
    for number, (file, layout) in enumerate(chosen, 1):
        with live_progress(f"{number} of {len(chosen)}, {layout.name}") as progress:
            one = stoppable(partial(judge_bracket, replace(file, bracket=layout.bracket), progress=progress))
        files.append(one)
        judged.append(Judged(layout, one.results, one.trouble, one.file_findings))
    comparison = laid_side_by_side(judged)
    if as_json:
        from app.cli.compare_json import comparison_json

        say(comparison_json(comparison))
    else:
        from app.cli.compare_text import write_comparison

        page = page_for_stdout()
        write_comparison(page, comparison, units)
        say(page.text)
    code = worst_exit_code([one.exit_code for one in files])
    return code if picture is None or _drawn(comparison, picture, theme, units) else BAD_USAGE


def _drawn(comparison: Comparison, picture: Path, theme: str, units: Units) -> bool:
    from app.compare.picture import write_picture

    try:
        write_picture(comparison, picture, theme_named(theme), units=units)
    except FilesError as error:
        complain(str(error))
        return False
    return True


class _UsageError(Exception):
    """Layouts that cannot be compared; the message says why and what to name."""


def _chosen(known: list[JudgedFile], variants: list[str], *, sawn: bool) -> list[tuple[JudgedFile, Layout]]:
    """Return the layouts to compare, each with its file: those drawn, variants named, sawn twins if asked.

    One file without more to it is compared with all its variants.
    """
    from app.compare.layout import (
        LEAST,
        MOST,
        drawn_layout,
        sawn_layout,
        told_apart,
        variant_layout,
        variant_layouts,
    )
    from app.editing.refused import EditRefused
    from app.editing.variants import variants_of

    found: list[tuple[JudgedFile, Layout]] = []
    unknown = set(variants)
    for file in known:
        bracket, name = file.bracket, _short_name(file.file)
        if bracket is None:
            continue
        found.append((file, drawn_layout(bracket, name)))
        try:
            if len(known) == 1 and not variants and not sawn:
                found += [(file, layout) for layout in variant_layouts(bracket, name)]
            for variant in (v for v in variants if v in variants_of(bracket)):
                unknown.discard(variant)
                found.append((file, variant_layout(bracket, variant, name)))
            if sawn:
                found.append((file, sawn_layout(bracket, name)))
        except EditRefused as error:
            raise _UsageError(f"{file.file}: {error}.") from error
    if unknown:
        there = ", ".join(v for f in known if f.bracket is not None for v in variants_of(f.bracket)) or "none"
        raise _UsageError(
            f"There is no variant {', '.join(sorted(unknown))} in the files named; there is: {there}."
        )
    if not LEAST <= len(found) <= MOST:
        raise _UsageError(
            f"{LEAST} to {MOST} layouts go side by side and these are {len(found)}: name that many files, or"
            " --variant NAME for a layout kept in a file, or --sawn for its sawn twin."
        )
    apart = told_apart([layout for _, layout in found])
    return [(file, layout) for (file, _), layout in zip(found, apart, strict=True)]


def _short_name(file: str) -> str:
    return Path(file).name.removesuffix(".json").removesuffix(".bracket")
