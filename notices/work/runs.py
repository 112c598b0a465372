"""The row by which a run is seen and steered: who began it, its beat, and whether it is to go, pause or stop."""

from dataclasses import replace
from datetime import datetime

from notices.cases.events import CAMPAIGN, NewEvent
from notices.cases.records import Run
from notices.work.ports import Transaction
from notices.work.recording import record

COUNTER = "runs"
_LAST_BEGUN_BY = "run_begun_by"
RUNNING = "running"
ENDED = "ended"


def begin(tx: Transaction, *, worker: str, begun_by: str, pace: str, now: datetime) -> Run:
    """Write a new run, numbered in order, and that it began."""
    tx.safe.put_note(_LAST_BEGUN_BY, worker)  # whoever begins at the same moment waits here, then counts anew
    number = int(tx.safe.note(COUNTER) or 0) + 1
    tx.safe.put_note(COUNTER, str(number))
    run = Run(
        run_id=f"{number:06d}",
        worker=worker,
        begun_by=begun_by,
        pace=pace,
        wanted="go",
        state=RUNNING,
        beat_at=now,
    )
    tx.record.put_run(run)
    _note(tx, "run_begun", {"run": run.run_id}, by=begun_by, now=now)
    return run


def beat(tx: Transaction, run: Run, *, now: datetime) -> Run:
    """Write that the run lives; return it with what is wanted of it meanwhile."""
    stands = next((one for one in tx.record.runs() if one.run_id == run.run_id), run)
    alive = replace(stands, beat_at=now)
    tx.record.put_run(alive)
    return alive


def end(tx: Transaction, run: Run, *, why: str, sort: str, now: datetime) -> None:
    """Write that the run ended: the row says why in full, the event its *sort*, for a reply may hold an address."""
    tx.record.put_run(replace(run, state=ENDED, beat_at=now, why=why))
    _note(tx, "run_ended", {"run": run.run_id, "why": sort}, by="program", now=now)


def _note(tx: Transaction, kind: str, payload: dict[str, object], *, by: str, now: datetime) -> None:
    event = NewEvent(
        stream=CAMPAIGN,
        kind=kind,
        at=now,
        actor=by,
        via="command",
        payload=payload,
        once=f"{kind}:{payload['run']}",
    )
    record(tx, [event], now=now)
