"""What runs in the worker's process in place of the true one: the same, and something goes wrong in it."""

from __future__ import annotations

import ctypes
import os
import signal
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Final

from app.worker.process import serve

ONCE: Final = "HOLDSQUARE_FAULT_ONCE"
"""Names a file: while it is there the fault happens, and takes it away."""


def aborts(connection: Connection) -> None:
    """Serve; the mesher calls abort, as it does on a failed assertion."""
    _in_the_mesher(os.abort)
    serve(connection)


def faults(connection: Connection) -> None:
    """Serve; the mesher reads where there is nothing."""
    _in_the_mesher(lambda: ctypes.string_at(0))
    serve(connection)


def raises(connection: Connection) -> None:
    """Serve; the mesher raises what nobody foresaw."""

    def fault() -> None:
        raise RuntimeError("Unknown error in the mesher")

    _in_the_mesher(fault)
    serve(connection)


def leaves(connection: Connection) -> None:
    """Serve; the mesher ends the process without a word."""
    _in_the_mesher(lambda: os._exit(0))
    serve(connection)


def killed_once(connection: Connection) -> None:
    """Serve; the first analysis is killed in its middle, as the system does when memory runs out."""

    def fault() -> None:
        told = Path(os.environ[ONCE])
        if told.exists():
            told.unlink()
            os.kill(os.getpid(), signal.SIGKILL)

    _in_the_mesher(fault)
    serve(connection)


def short_of_memory(connection: Connection) -> None:
    """Serve; once meshed the process may take 20 MB more, and nobody asks beforehand whether that will do."""
    import solver.mesh_stage

    true = solver.mesh_stage.hold_plate

    def hold(*given: Any, **more: Any) -> object:  # noqa: ANN401 - passed on
        _leave_bytes(20e6)
        return true(*given, **more)

    solver.mesh_stage.hold_plate = hold
    solver.mesh_stage.refuse_too_fine = lambda *_: None
    serve(connection)


def short_before_meshing(connection: Connection) -> None:
    """Serve; once a mesh is planned the process may take 30 MB more: enough to mesh, too little to solve."""
    import geometry.mesh_foreseen
    import geometry.plate_mesh

    true = geometry.mesh_foreseen.unknowns_foreseen

    def first(*given: Any) -> int:  # noqa: ANN401 - passed on
        _leave_bytes(30e6)
        return true(*given)

    geometry.plate_mesh.unknowns_foreseen = first
    serve(connection)


def _leave_bytes(more: float) -> None:
    import resource

    taken = int(Path("/proc/self/statm").read_text().split()[0]) * os.sysconf("SC_PAGE_SIZE")
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (int(taken + more), hard))


def _in_the_mesher(fault: Callable[[], object]) -> None:
    import gmsh

    true = gmsh.model.mesh.generate

    def generate(*given: Any) -> object:  # noqa: ANN401 - passed on
        fault()
        return true(*given)

    gmsh.model.mesh.generate = generate
