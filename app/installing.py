"""Make a virtual environment and install the program in it, with one tidy line of progress."""

from __future__ import annotations

import importlib.util
import os
import re
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from app.set_up_error import SetUpError

_UNREACHABLE: Final = re.compile(
    r"NewConnectionError|NameResolutionError|ConnectTimeoutError|ReadTimeoutError|ProxyError|ConnectionError"
    r"|Temporary failure in name resolution|Network is unreachable|Could not fetch URL|Connection refused",
)
_UNTRUSTED: Final = re.compile(r"CERTIFICATE_VERIFY_FAILED|certificate verify failed", re.IGNORECASE)
_NONE_FOUND: Final = re.compile(r"No matching distribution found for (\S+)")
_TAKING_UP: Final = re.compile(r"(?:Collecting|Processing) (?:\S*/)?([\w.]+)")
_UNPACKING: Final = "Installing collected packages: "


def make_venv(venv: Path) -> None:
    """Make an empty virtual environment with pip. Raises SetUpError, naming what is missing."""
    if any(importlib.util.find_spec(name) is None for name in ("venv", "ensurepip")):
        version = f"{sys.version_info.major}.{sys.version_info.minor}"
        raise SetUpError(
            f"This Python {version} has no venv module: install it (on Debian and Ubuntu "
            f"`apt-get install python{version}-venv`) and start Holdsquare again."
        )
    with _Progress("Making .venv") as progress:
        answer = subprocess.run(
            [sys.executable, "-m", "venv", str(venv)], capture_output=True, text=True, check=False
        )
        if answer.returncode:
            progress.fail()
            raise SetUpError(f"Making {venv} failed: {_last_line(answer.stderr or answer.stdout)}")


def install(python: Path, root: Path, extras: Sequence[str]) -> None:
    """Install the program at `root`, so that edits take effect, with its dependencies and `extras`.

    All pip says goes to `.venv/install.log`. Raises SetUpError, telling a missing network from the rest.
    """
    log = root / ".venv" / "install.log"
    what = f"{root}[{','.join(extras)}]" if extras else str(root)
    command = [str(python), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    # Settings of pip's that send packages elsewhere are meant for other folders than this one.
    environment = {**os.environ, "PIP_USER": "0", "PIP_REQUIRE_VIRTUALENV": "0", "PYTHONUNBUFFERED": "1"}
    environment.pop("PIP_TARGET", None)
    environment.pop("PIP_PREFIX", None)
    with _Progress("Installing Holdsquare") as progress, log.open("w", encoding="utf-8") as record:
        process = subprocess.Popen(
            [*command, "--progress-bar", "off", "--editable", what],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
            text=True,
            encoding="utf-8",
            errors="replace",
            env=environment,
        )
        assert process.stdout is not None
        try:
            for line in process.stdout:
                record.write(line)
                progress.say(line)
        except BaseException:
            process.kill()
            raise
        if process.wait():
            progress.fail()
            record.flush()
            raise SetUpError(_why(log))


def _why(log: Path) -> str:
    text = log.read_text(encoding="utf-8", errors="replace")
    missing = _NONE_FOUND.search(text)
    if _UNTRUSTED.search(text):
        # pip calls that "could not fetch" too, but no cable mends it.
        return (
            "The package index answers with a certificate that pip does not trust, as behind a firewall "
            "that looks into connections: set PIP_CERT to the file of certificates your network's keeper "
            "names, and start Holdsquare again."
        )
    if _UNREACHABLE.search(text):
        return "The package index cannot be reached: connect to the network and start Holdsquare again."
    if missing:
        return (
            f"The package index pip is set to has no {missing.group(1)} for this machine: check the network "
            f"and pip's settings (all it said is in {log}) and start Holdsquare again."
        )
    return f"Installing failed: {_last_line(text)} (all that pip said is in {log})"


def _last_line(text: str) -> str:
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    errors = [line for line in lines if line.lower().startswith("error")]
    return (errors or lines or ["no reason was given"])[-1]


class _Progress:
    """One step on one line: rewritten while it runs on a terminal, two plain lines elsewhere."""

    def __init__(self, step: str) -> None:
        self._step = step
        self._started = time.monotonic()
        self._terminal = sys.stderr.isatty()
        self._packages = 0
        self._failed = False

    def __enter__(self) -> _Progress:
        self._show(f"{self._step} ...", end="" if self._terminal else "\n")
        return self

    def __exit__(self, kind: object, error: object, trace: object) -> None:
        seconds = time.monotonic() - self._started
        word = "failed after" if self._failed or kind else "done in"
        count = f", {self._packages} packages" if self._packages else ""
        self._show(f"{self._step}: {word} {seconds:.0f} s{count}", end="\n")

    def fail(self) -> None:
        """Close the line as failed."""
        self._failed = True

    def say(self, line: str) -> None:
        """Take one line of pip's; on a terminal show the package it is at."""
        taken_up = _TAKING_UP.match(line)
        if taken_up:
            self._packages += 1
            at = f"package {self._packages}, {taken_up.group(1)}"
        elif line.startswith(_UNPACKING):
            self._packages = line.count(",") + 1
            at = f"unpacking {self._packages} packages"
        else:
            return
        if self._terminal:
            self._show(f"{self._step}: {at}", end="")

    def _show(self, text: str, *, end: str) -> None:
        # Progress goes beside the answer, never into it: standard output is the program's.
        sys.stderr.write(f"\r\033[K{text}{end}" if self._terminal else text + end)
        sys.stderr.flush()
