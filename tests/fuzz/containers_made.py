"""Reports (PDF) and registers (a database) as a stranger might hand them in."""

from __future__ import annotations

import contextlib
import io
import sqlite3
import tempfile
import zlib
from pathlib import Path
from random import Random
from typing import Final

from pypdf import PdfWriter

from app.register.database import Register
from app.register.entry import Entry
from tests.fuzz.pictures_made import noughts

PDF_WORDS: Final = (
    b"/Names", b"/EmbeddedFiles", b"/Kids", b"/EF", b"/F", b"/UF", b"/Filter", b"/FlateDecode",
    b"/LZWDecode", b"/Length",
    b"/Length 999999999999", b"/Encrypt", b"/Root", b"/Prev 0", b"/ObjStm", b"/XRef", b"1 0 R", b"2 0 R",
    b"9 9 R",
    b"<<", b">>", b"[", b"]", b"stream\n", b"endstream", b"endobj", b"startxref\n0", b"%%EOF",
    b"/W [1 9999 1]",
    b"/JavaScript", b"/DecodeParms << /Predictor 12 /Columns 99999999 >>", b"/F (../../x.bracket.json)",
)  # fmt: skip
SQL_WORDS: Final = (
    b"CREATE TABLE entries",
    b"CREATE VIEW entries AS SELECT 1",
    b"CREATE TRIGGER",
    b"RQSH",
    b"SQLite format 3\x00",
    b"number",
)


def pdf_seed(bracket: bytes, record: bytes) -> bytes:
    """Return a report of one empty page that carries a bracket and its record."""
    writer = PdfWriter()
    writer.add_blank_page(100, 100)
    writer.add_attachment("one.bracket.json", bracket)
    writer.add_attachment("one.record.json", record)
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def pdf_made(dice: Random) -> bytes:
    """Return a report whose tree of attached files goes round, deep, or swells."""
    swollen = noughts(dice.choice((10, 5_000, 90_000_000)))
    if dice.random() < 0.3:
        swollen = zlib.compress(swollen)
    name = dice.choice((b"a.bracket.json", b"../../a.bracket.json", b"a.exe", b"", b"/etc/x.bracket.json"))
    kids = dice.choice(
        (b"[3 0 R]", b"[3 0 R 3 0 R 3 0 R]", b"[4 0 R]", b"3 0 R", b"null", b"[" * 900 + b"]" * 900)
    )
    spec = b"<< /Type /Filespec /F (%s) /EF << /F %s >> >>" % (
        name,
        dice.choice((b"5 0 R", b"4 0 R", b"null", b"[5 0 R]")),
    )
    objects = [
        b"<< /Type /Catalog /Pages 2 0 R /Names << /EmbeddedFiles 3 0 R >> >>",
        b"<< /Type /Pages /Kids [] /Count 0 >>",
        b"<< /Names [(%s) 4 0 R] %s >>" % (name, b"/Kids " + kids if dice.random() < 0.6 else b""),
        spec,
        b"<< /Length %d /Filter %s %s>>\nstream\n%s\nendstream"
        % (
            dice.choice((len(swollen), 0, -1, 10**9)),
            dice.choice(
                (b"/FlateDecode", b"[/FlateDecode]", b"[/FlateDecode /FlateDecode]", b"/JBIG2Decode", b"7")
            ),
            dice.choice((b"", b"/DecodeParms << /Predictor 15 /Columns 4000000 >> ")),
            swollen,
        ),
    ]
    parts, places = [b"%PDF-1.7\n"], []
    for number, body in enumerate(objects, 1):
        places.append(sum(map(len, parts)))
        parts.append(b"%d 0 obj\n%s\nendobj\n" % (number, body))
    start = sum(map(len, parts))
    table = b"".join(b"%010d 00000 n \n" % place for place in places)
    parts.append(b"xref\n0 %d\n0000000000 65535 f \n%s" % (len(objects) + 1, table))
    prev = b" /Prev %d" % start if dice.random() < 0.2 else b""
    parts.append(
        b"trailer\n<< /Size %d /Root 1 0 R%s >>\nstartxref\n%d\n%%%%EOF" % (len(objects) + 1, prev, start)
    )
    return b"".join(parts)


def register_seed() -> bytes:
    """Return a register of three entries."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "register.sqlite3"
        Register(path).add([Entry(record_file=f"/cars/{k}.record.json", title=f"car {k}") for k in range(3)])
        return path.read_bytes()


_ENDLESS: Final = "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x"
_SCHEMES: Final = (
    "CREATE TABLE entries (number, added, record_file, entry)",
    f"CREATE VIEW entries AS {_ENDLESS} AS number, '' AS added, 'r' AS record_file, '{{}}' AS entry FROM n",
    "CREATE VIEW entries AS SELECT 1 AS number, 'a' AS added, 'r' AS record_file,"
    " CAST(zeroblob(90000000) AS TEXT) AS entry",
    "CREATE TABLE entries (number INTEGER PRIMARY KEY AUTOINCREMENT, added TEXT NOT NULL, record_file TEXT"
    " NOT NULL, entry TEXT NOT NULL, more TEXT GENERATED ALWAYS AS (hex(zeroblob(4000000))))",
    "CREATE TABLE other (x)",
)
_ROWS: Final = (
    (1, "2031-01-01", "r", '{"record_file": "r"}'), (None, None, None, None), (b"\xff", b"\xff", b"\xff",
    b"\xff"),
    ("x", "=1+1", "r", "{"), (2**63 - 1, 1e308, "r", '{"record_file": "=1", "date": "2031-02-31"}'),
    (2, "a", "r", "[" * 5_000), (-1, "", "", '{"record_file": ""}'),
)  # fmt: skip


def register_db_made(dice: Random) -> bytes:
    """Return a database with the register's mark and another inside."""
    connection = sqlite3.connect(":memory:", isolation_level=None)
    connection.execute(dice.choice(_SCHEMES))
    for _ in range(dice.choice((0, 1, 3))):
        with contextlib.suppress(sqlite3.Error):
            connection.execute(
                "INSERT INTO entries (number, added, record_file, entry) VALUES (?, ?, ?, ?)",
                dice.choice(_ROWS),
            )
    if dice.random() < 0.3:
        connection.execute("CREATE TABLE t (x)")
        connection.execute("CREATE TRIGGER g AFTER INSERT ON t BEGIN DELETE FROM t; END")
    mark, version = dice.choice(((0x4853_5251, 1), (0x4853_5251, 2), (0x4853_5251, -1), (0, 0), (7, 1)))
    connection.execute(f"PRAGMA application_id = {mark}")
    connection.execute(f"PRAGMA user_version = {version}")
    content = connection.serialize()
    connection.close()
    return content
