"""The command that lets a Linux desktop open bracket files."""

from __future__ import annotations

from app.cli.page import complain, say
from app.exit_codes import BAD_USAGE
from app.files.desktop_entry import associate, dissociate
from app.files.files_error import FilesError


def run_associate(*, remove: bool) -> int:
    """Write the files that tell the desktop, or remove them; return the exit code."""
    try:
        done = dissociate() if remove else associate()
    except FilesError as error:
        complain(str(error))
        return BAD_USAGE
    verb = "Removed" if remove else "Written"
    for path in done.paths:
        say(f"{verb}: {path}")
    if remove and not done.paths:
        say("There was nothing to remove.")
    for words in done.words:
        say(words)
    return 0
