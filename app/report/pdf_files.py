"""Files attached within a PDF, read with bounds: the one file that knows the library for PDFs.

PDFs come from strangers: this runs in a process of its own, see `attached`, and gives up on anything odd.
"""

from __future__ import annotations

import io
import logging
import zlib
from collections.abc import Iterator
from typing import Any, Final

from pypdf import PdfReader
from pypdf.errors import PyPdfError
from pypdf.generic import ArrayObject, DictionaryObject, StreamObject

MOST_FILES: Final = 50
MOST_BYTES_EACH: Final = 60_000_000
_DEEPEST: Final = 8
_BROKEN: Final = (
    PyPdfError, KeyError, IndexError, TypeError, ValueError, AttributeError, RecursionError, OverflowError,
)  # fmt: skip
"""What the library raises for a file that is no sound PDF; OverflowError for a place of twenty digits."""

# what it would complain of is told in our own words
logging.getLogger("pypdf").setLevel(logging.CRITICAL)


class PdfRefused(ValueError):  # noqa: N818 - a code for a sentence
    """Why nothing can be taken out: `locked`, `damaged`, `too big`, `several` of one name, or `none`."""


def files_in(content: bytes) -> dict[str, bytes]:
    """Return every attached file by its name; PdfRefused with a code if there is none to be had."""
    try:
        reader = PdfReader(io.BytesIO(content), strict=False)
        if reader.is_encrypted:
            raise PdfRefused("locked")
        root: Any = reader.trailer["/Root"].get_object()
        names = root.get("/Names", DictionaryObject()).get_object()
        tree = names.get("/EmbeddedFiles")
        listed = list(_files(tree.get_object(), 0)) if tree is not None else []
        found = dict(listed)
        if len(found) < len(listed):
            raise PdfRefused("several")
    except PdfRefused:
        raise
    except _BROKEN as error:
        raise PdfRefused("damaged") from error
    if not found:
        raise PdfRefused("none")
    return found


def _files(node: Any, depth: int) -> Iterator[tuple[str, bytes]]:  # noqa: ANN401 - whatever a PDF holds
    if depth > _DEEPEST:
        raise PdfRefused("damaged")
    pairs = node.get("/Names", ArrayObject())
    for number in range(0, min(len(pairs) - 1, 2 * MOST_FILES), 2):
        spec = pairs[number + 1].get_object()
        stream = spec["/EF"]["/F"].get_object()
        if isinstance(stream, StreamObject):
            name = spec.get("/UF") or spec.get("/F") or pairs[number]
            yield str(name), _content(stream)
    for kid in list(node.get("/Kids", ArrayObject()))[:MOST_FILES]:
        yield from _files(kid.get_object(), depth + 1)


def _content(stream: StreamObject) -> bytes:
    """Return a stream's content; only plain and deflated ones are read, and never more than the bound."""
    kind = stream.get("/Filter")
    names = [str(n) for n in (kind if isinstance(kind, ArrayObject) else [kind])] if kind is not None else []
    raw = bytes(stream._data)
    if not names:
        if len(raw) > MOST_BYTES_EACH:
            raise PdfRefused("too big")
        return raw
    if names != ["/FlateDecode"] or "/DecodeParms" in stream:
        raise PdfRefused("damaged")
    inflater = zlib.decompressobj()
    try:
        content = inflater.decompress(raw, MOST_BYTES_EACH + 1)
    except zlib.error as error:
        raise PdfRefused("damaged") from error
    if len(content) > MOST_BYTES_EACH:
        raise PdfRefused("too big")
    return content
