"""A report's blocks as one HTML file: no scripts, nothing fetched, drawings as SVG within it. No Qt."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence
from functools import partial
from html import escape
from typing import Final

from app.paper.page import Figure, LineKind, Mark, Picture, Stroke, Words
from app.paper.tables import Column, Table
from app.report.blocks import Block, Bullets, Drawn, Heading, NewPage, Paragraph, Tabled
from app.report.job import ReportJob
from app.wording.figures import plain
from solver.version import VERSION

_WIDTHS_MM: Final[dict[LineKind, float]] = {
    "thic"
    "k": 0.5, "medium": 0.35, "thin": 0.18, "hair": 0.1, "dashed": 0.18, "chain": 0.18, "double chain": 0.18,
}  # fmt: skip
_DASHES: Final[dict[LineKind, str]] = {
    "dashed": "2.4 1",
    "chain": "7 1 0.4 1",
    "double chain": "7 1 0.4 1 0.4 1",
}
_ANCHORS: Final = {"left": "start", "middle": "middle", "right": "end"}
_STYLE: Final = """
body { margin: 2em auto; max-width: 60em; padding: 0 1em; background: #fff; color: #1d2a33;
  font: 16px/1.45 "DejaVu Sans", "Noto Sans", "Segoe UI", Arial, sans-serif; }
h1 { font-size: 1.5em; border-bottom: 1.5px solid; padding-bottom: .2em; }
h2 { font-size: 1.25em; margin-top: 2em; border-bottom: 1px solid; }
h3 { font-size: 1em; margin: 1.2em 0 .2em; }
p { margin: .4em 0; } p.small, footer { font-size: .85em; color: #4b565d; } p.bold { font-weight: bold; }
ul { margin: .2em 0 .6em; padding-left: 1.4em; list-style: none; }
li { font-size: .92em; } li::before { content: attr(data-mark); float: left; margin-left: -1.2em; }
table { border-collapse: collapse; margin: .4em 0 1em; font-size: .85em; width: 100%; }
th, td { border: 1px solid #9aa3a8; padding: .15em .5em; text-align: left; vertical-align: top;
  overflow-wrap: anywhere; }
th { border-bottom: 2px solid #1d2a33; } td.right, th.right { text-align: right; white-space: nowrap; }
figure { margin: 1em 0; } svg { width: 100%; height: auto; }
"""


def html_of(job: ReportJob, blocks: Sequence[Block]) -> str:
    """Return the whole file; everything that comes from a bracket file is escaped."""
    title = _text(job.title)
    file, dot = _text(job.file), "\u00b7"
    foot = f"{file} {dot} Holdsquare {VERSION} {dot} input hash {job.input_hash} {dot} {_text(job.date)}"
    body = "\n".join(_block(block) for block in blocks)
    policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width">\n'
        f"<title>Report: {title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n"
        f"<header><h1>Report: {title}</h1></header>\n<main>\n{body}\n</main>\n"
        f"<footer><p>{foot}</p></footer>\n</body>\n</html>\n"
    )


def _block(block: Block) -> str:
    match block:
        case Heading(words, level):
            return f"<h{level + 1}>{_text(words)}</h{level + 1}>"
        case Paragraph(words, weight):
            return f'<p class="{weight}">{_text(words)}</p>'
        case Bullets(sentences, mark):
            items = "".join(f'<li data-mark="{_text(mark)}">{_text(s)}</li>' for s in sentences)
            return f"<ul>{items}</ul>"
        case Tabled(table):
            return _table(table)
        case Drawn(figure, shows):
            return f"<figure>{_svg(figure, shows)}</figure>"
        case NewPage():
            return ""


def _table(table: Table) -> str:
    def row(cells: Iterable[str], tag: str) -> str:
        return "<tr>" + "".join(map(partial(_cell, tag), cells, table.columns)) + "</tr>"

    head = row((column.title for column in table.columns), "th")
    body = "".join(row(cells, "td") for cells in table.rows)
    return f"<table><thead>{head}</thead><tbody>{body}</tbody></table>"


def _cell(tag: str, words: str, column: Column) -> str:
    side = ' class="right"' if column.right else ""
    return f"<{tag}{side}>{_text(words)}</{tag}>"


def _svg(figure: Figure, shows: str) -> str:
    marks = "".join(_mark(mark) for mark in figure.marks)
    # strokes at the border keep their whole width
    box = f"-4 -1 {figure.width_mm + 8:.3f} {figure.height_mm + 2:.3f}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" role="img" aria-label="{_text(shows)}">'
        f"{marks}</svg>"
    )


def _mark(mark: Mark) -> str:
    if isinstance(mark, Stroke):
        return _stroke(mark)
    if isinstance(mark, Words):
        return _words(mark)
    return _picture(mark)


def _stroke(stroke: Stroke) -> str:
    places = " ".join(f"{x:.3f},{y:.3f}" for x, y in stroke.places)
    fill = stroke.fill
    if not fill and stroke.grey is not None:
        level = round(255 * stroke.grey)
        fill = f"#{level:02x}{level:02x}{level:02x}"
    pen = "none" if stroke.bare else stroke.pen or "#000"
    dashes = f' stroke-dasharray="{_DASHES[stroke.line]}"' if stroke.line in _DASHES else ""
    shape = "polygon" if stroke.closed else "polyline"
    return (
        f'<{shape} points="{places}" fill="{fill or "none"}" stroke="{pen}"'
        f' stroke-width="{_WIDTHS_MM[stroke.line]}"{dashes}/>'
    )


def _words(words: Words) -> str:
    if not words.words:
        return ""
    x, y = words.at
    turn = f' transform="rotate({-words.angle_deg:.2f} {x:.3f} {y:.3f})"' if words.angle_deg else ""
    weight = ' font-weight="bold"' if words.bold else ""
    slant = ' font-style="italic"' if words.italic else ""
    anchor = f'font-size="{words.size_mm:.2f}" text-anchor="{_ANCHORS[words.across]}"'
    return f'<text x="{x:.3f}" y="{y:.3f}" {anchor}{weight}{slant}{turn}>{_text(words.words)}</text>'


def _picture(picture: Picture) -> str:
    x, y, width, height = picture.box
    data = base64.b64encode(picture.png).decode("ascii")
    return (
        f'<image x="{x:.3f}" y="{y:.3f}" width="{width:.3f}" height="{height:.3f}"'
        f' href="data:image/png;base64,{data}"/>'
    )


def _text(words: str) -> str:
    return escape(plain(words), quote=True)
