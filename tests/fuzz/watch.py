"""What the process under test may not do: write elsewhere, reach out, run anything, take too much."""

from __future__ import annotations

import faulthandler
import os
import resource
import signal
import sys
import sysconfig
from pathlib import Path
from typing import Any, Final, TextIO

from solver.freed_memory import give_memory_back

MOST_BYTES: Final = 1_000_000_000
"""Of memory in all while a case runs."""
_REACH: Final = 2_500_000_000
"""Of address space beyond what the imports took; beyond it the system refuses."""
_NEVER: Final = (
    "socket.", "subprocess.Popen", "os.system", "os.exec", "os.spawn", "os.posix_spawn", "os.fork",
    "os.forkpty", "pty.spawn",
    "ctypes.dlopen", "pickle.find_class", "webbrowser.open", "urllib.Request", "ftplib.", "smtplib.",
    "code.__new__",
    "shutil.rmtree", "http.client", "os.kill", "signal.pthread_kill", "syslog.", "telnetlib.", "winreg.",
)  # fmt: skip
_ON_PATHS: Final = {
    "os.remove": (0,), "os.rename": (0, 1), "os.mkdir": (0,), "os.rmdir": (0,), "os.link": (0, 1),
    "os.symlink": (1,),
    "os.truncate": (0,), "os.chmod": (0,), "os.chown": (0,), "os.utime": (0,), "os.setxattr": (0,),
    "shutil.copyfile": (1,),
    "shutil.move": (0, 1), "sqlite3.connect": (0,),
}  # fmt: skip
_WRITING: Final = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


class Watch:
    """Sees through Python's audit events what one process does; a hook cannot be taken out again."""

    def __init__(self, folder: Path, cache: Path, may: tuple[str, ...] = ()) -> None:
        """Watch from now on: writing is right in the folder alone, reading there and in the program's own.

        The cache is where a library that draws keeps its list of fonts.
        """
        self.seen: list[str] = []
        self._folder, self._cache = str(folder.resolve()), str(cache.resolve())
        own = {
            sys.prefix,
            sys.base_prefix,
            sysconfig.get_path("stdlib"),
            str(Path(__file__).resolve().parents[2]),
        }
        own |= {str(Path(one).resolve()) for one in list(own)}
        self._readable = (
            *own,
            self._folder,
            self._cache,
            f"/proc/{os.getpid()}",
            "/usr/share",
            "/usr/lib",
            "/lib",
            "/sys/devices/system",
            # How much memory is free.
            "/proc/meminfo",
            "/sys/fs/cgroup",
            *map(_real, sys.path),
        )
        self._may = may
        self.on = False
        sys.addaudithook(self._hook)

    def _hook(self, event: str, arguments: tuple[Any, ...]) -> None:
        if not self.on or self._may_go(event, arguments):
            return
        self.seen.append(f"{event} {arguments!r}"[:300])

    def _may_go(self, event: str, arguments: tuple[Any, ...]) -> bool:
        if event == "open":
            return self._may_open(*arguments)
        if event in _ON_PATHS:
            return all(self._within(arguments[place]) for place in _ON_PATHS[event])
        if event == "ctypes.dlopen":
            # The process itself, or a library of the program's own that is wanted for the first time.
            return arguments[0] is None or self._is_own(arguments[0])
        return not event.startswith(_NEVER) or event in self._may

    def _may_open(self, path: object, mode: str | None, flags: int) -> bool:
        if isinstance(path, int) or path in ("/dev/null", "/dev/urandom", os.devnull):
            return True
        writes = bool(set(mode or "") & set("wax+")) or bool(flags & _WRITING)
        if writes:
            return self._within(path)
        return self._is_own(path)

    def _is_own(self, path: object) -> bool:
        real = _real(path)
        return any(real == one or real.startswith(one.rstrip("/") + "/") for one in self._readable if one)

    def _within(self, path: object) -> bool:
        if not isinstance(path, str | bytes | os.PathLike):
            return False
        text = os.fsdecode(path)
        if text.startswith("file:"):  # as the database is asked for
            from urllib.parse import unquote, urlsplit

            text = unquote(urlsplit(text).path)
        return f"{_real(text)}/".startswith((self._folder + "/", self._cache + "/")) or text == ":memory:"


def _real(path: object) -> str:
    try:
        return os.path.realpath(os.fsdecode(path))  # type: ignore[arg-type]
    except (TypeError, ValueError, OSError):
        return "?"


def limit_memory() -> None:
    """Let the system refuse memory far beyond what may be used."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
    reach = pages * resource.getpagesize() + _REACH
    resource.setrlimit(resource.RLIMIT_AS, (reach, reach))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def arm(stack: TextIO) -> None:
    """Have a case that takes too long tell where it is and end the process."""
    faulthandler.enable(stack)
    faulthandler.register(signal.SIGPROF, stack, all_threads=True, chain=True)


def within_s(seconds: float) -> None:
    """Give what follows so much of the processor's time; 0 ends the limit."""
    signal.setitimer(signal.ITIMER_PROF, seconds)


def forget_peak() -> None:
    """Begin to measure memory anew; what commands keep for the next need is handed back."""
    give_memory_back()
    Path("/proc/self/clear_refs").write_text("5", encoding="ascii")


def peak_bytes() -> int:
    """Return the most memory held since it was last forgotten."""
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) * 1024 for line in lines if line.startswith("VmHWM:"))
