"""Sentences for findings about a file as a file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from geometry.finding import Severity

FILE_WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    "file-missing": ("stop", "it is not there; check the name and the folder"),
    "file-is-folder": ("stop", "it is a folder; name a file in it, such as one ending in .bracket.json"),
    "file-not-regular": (
        "stop",
        "it is a device or a pipe, not a file; copy its content into a file and name that",
    ),
    "file-unreadable": ("stop", "it cannot be read ({reason}); check who may read it"),
    "file-too-big": (
        "stop",
        "it is {size_mb:.1f} MB and a {kind} file has at most {most_mb:g} MB; this is not a {kind} file,"
        " name another",
    ),
    "file-empty": (
        "stop",
        "it is empty; the previous version may stand beside it under the same name with ~ at the end",
    ),
    "file-binary": ("stop", "it is not text; name a file ending in .bracket.json"),
    "file-not-utf8": ("stop", "line {line} is not UTF-8 text (found {byte}); save it as UTF-8"),
    "file-too-deep": (
        "stop",
        "at line {line} it is nested more than {most} levels deep, which no bracket is; name another file",
    ),
    "file-truncated": (
        "stop",
        "it breaks off at line {line}, column {column}; take the previous version beside it (same name with"
        " ~ at the end) or another copy",
    ),
    "file-marked-up": (
        "stop",
        "it is HTML, SVG or other text in angle brackets; a report as HTML carries no bracket file: name the"
        " file itself, or the report as PDF",
    ),
    "file-not-json": (
        "stop",
        "line {line}, column {column} cannot be understood ({reason}); mend that place",
    ),
    "file-not-a-bracket": (
        "stop",
        "what it holds does not make a {kind}; start from a sample {kind} and compare",
    ),
    "kept-findings-lost": (
        "doubt",
        "what could not be read of its file was noted, and the note is damaged; open the file itself again",
    ),
    "pdf-locked": (
        "stop",
        "it is locked by a password; ask for one that is not, or for the bracket file",
    ),
    "pdf-damaged": (
        "stop",
        "it cannot be taken apart as a PDF; ask for it again, or for the bracket file",
    ),
    "pdf-too-big": ("stop", "what it carries is too big to be a bracket; ask for the bracket file"),
    "pdf-without-bracket": (
        "stop",
        "it carries no bracket; only a report made by this program does, ask for the bracket file",
    ),
    "pdf-several": (
        "stop",
        "it carries more than one bracket or record, and nobody can tell which its pages are about; ask for"
        " the bracket file",
    ),
    "format-missing": ("stop", 'it does not say what it is; a {kind} file holds "format": "{wanted}"'),
    "format-unknown": ("stop", 'its format is {value}, not "{wanted}"; name a {kind} file'),
    "version-missing": (
        "stop",
        "it does not say which version of the format it is in; this program writes version {known}",
    ),
    "version-newer": (
        "stop",
        "it was made by a later version of the program (format {version}; this one knows up to {known}); get"
        " the newer program",
    ),
    "version-unknown": (
        "stop",
        "its format version {version} was never used; this program reads {known} and before",
    ),
    "too-many": (
        "stop",
        "it holds {count} {what} and the most that is read is {most}; split it or remove what is not needed",
    ),
    "more-of-the-kind": (
        "note",
        "{count} more findings of the kind {kind} are not listed; mend those listed first",
    ),
    "key-doubled": ("doubt", "{key} stands there more than once; the last one was taken, remove the others"),
    "key-unknown": ("doubt", "{key} is not known there and was left out{hint}; correct the key or remove it"),
    "key-missing": ("stop", "{key} is missing, and without it this part was left out; give it"),
    "number-not-finite": (
        "doubt",
        "it is {value}, which is not a number anybody can measure; give the figure or leave it out",
    ),
    "number-absurd": ("doubt", "it is {value}; no figure of a bracket is beyond {most:g}, check the unit"),
    "number-out-of-range": ("doubt", "it is {value} and has to be {allowed}; correct it"),
    "wrong-type": ("doubt", "it is {value} where {wanted} belongs; correct it"),
    "wrong-length": ("doubt", "{value} has the wrong length: {reason}; correct it"),
    "word-unknown": ("doubt", "it is {value} where one of these belongs: {expected}{hint}; choose one"),
    "value-refused": ("doubt", "{value} cannot be taken: {reason}; correct it"),
    "text-control": (
        "note",
        "signs that do not print were taken out; it now reads {value!r}; check that it means the same",
    ),
}
