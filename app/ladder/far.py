"""The one file that knows distributed: steps judged by workers on other machines, or by local ones on trial.

Scheduler and workers are the user's own and trust one another: what goes between them is neither encrypted
nor signed. A worker that dies loses nothing: its steps go to another.
"""

from __future__ import annotations

import contextlib
import logging
from collections.abc import Generator, Sequence
from typing import Final

from distributed import Client, LocalCluster, as_completed
from pydantic import ValidationError

from app.ladder.crew import ONE_THREAD
from app.ladder.far_task import answered
from app.ladder.kept_answers import of_sources
from app.ladder.rung import Answer, unanswered
from geometry.bracket import Bracket
from solver.version import VERSION

CONNECT_S: Final = 15
MOST_DEATHS: Final = 3
"""Workers that may die over one step before it is given up."""


class FarError(Exception):
    """A scheduler that cannot be reached; the message says which and what to do."""


class Far:
    """Workers behind a scheduler."""

    def __init__(self, *, scheduler: str = "", workers: int = 0) -> None:
        """Reach the scheduler, or start so many workers here; FarError if that cannot be done."""
        logging.getLogger("distributed").setLevel(logging.CRITICAL)
        self._cluster: LocalCluster | None = None
        try:
            if not scheduler:
                self._cluster = LocalCluster(
                    n_workers=workers,
                    threads_per_worker=1,
                    processes=True,
                    dashboard_address=None,
                    env=dict(ONE_THREAD),
                    silence_logs=logging.CRITICAL,
                )
            self._client = Client(scheduler or self._cluster, timeout=CONNECT_S)
        except (OSError, ValueError, TimeoutError) as error:
            raise FarError(
                f"The scheduler {scheduler or 'on this machine'} cannot be reached ({error}): start it, or"
                " check the address, such as tcp://192.168.1.10:8786."
            ) from error

    @property
    def client(self) -> Client:
        """Return the connection to the scheduler."""
        return self._client

    def judge(self, brackets: Sequence[Bracket]) -> Generator[tuple[Bracket, Answer], None, None]:
        """Yield every bracket with its answer, in whatever order they come."""
        futures = {
            self._client.submit(answered, bracket.model_dump_json(), pure=False, retries=MOST_DEATHS): bracket
            for bracket in brackets
        }
        try:
            for future in as_completed(list(futures)):
                yield futures[future], _answer(future, futures[future])
        finally:
            with contextlib.suppress(OSError, TimeoutError, RuntimeError):
                self._client.cancel(list(futures))
            self.close()

    def close(self) -> None:
        """Let the scheduler go; workers started here end."""
        with contextlib.suppress(OSError, TimeoutError, RuntimeError):
            self._client.close(timeout=5)
        if self._cluster is not None:
            with contextlib.suppress(OSError, TimeoutError, RuntimeError):
                self._cluster.close(timeout=10)


def _answer(future: object, bracket: Bracket) -> Answer:
    try:
        answer = Answer.model_validate_json(future.result())  # type: ignore[attr-defined]
    except ValidationError:
        return unanswered("the worker's answer could not be read: it runs another version", bracket)
    except Exception as fault:  # noqa: BLE001 - whatever befell a worker elsewhere is one step without an answer
        return unanswered(f"no worker could judge it ({type(fault).__name__})", bracket)
    if answer.version != of_sources():
        return unanswered(f"the worker runs version {answer.version}, this is {of_sources()}", bracket)
    return answer.model_copy(update={"version": VERSION})
