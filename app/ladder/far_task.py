"""What a worker on another machine does: a bracket's text in, the answer's text out."""

from __future__ import annotations

import threading

from app.worker.working_thread import STACK_BYTES


def answered(text: str) -> str:
    """Return the answer to a bracket as JSON; what could not be judged is an answer too."""
    found: list[str] = []
    before = threading.stack_size(STACK_BYTES)
    try:
        thread = threading.Thread(target=lambda: found.append(_judged(text)), name="holdsquare judging")
        thread.start()
    finally:
        threading.stack_size(before)
    thread.join()
    return found[0]


def _judged(text: str) -> str:
    from app.ladder.kept_answers import of_sources
    from app.ladder.rung import answer_of, unanswered
    from geometry.bracket import Bracket
    from solver.analyse import analyse

    bracket = Bracket.model_validate_json(text)
    try:
        answer = answer_of(bracket, analyse(bracket))
    except Exception as fault:  # noqa: BLE001 - the asker is elsewhere: a sentence, not a traceback
        words = " ".join(str(fault).split())[:300]
        answer = unanswered(f"the analysis went wrong ({type(fault).__name__}: {words})", bracket)
    # What judges is more than its version: sources that were changed judge otherwise under the same one.
    return answer.model_copy(update={"version": of_sources()}).model_dump_json()
