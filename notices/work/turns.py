"""One turn of a run, within one transaction: what is done is written, what may go begins, the tries are counted."""

from collections import Counter, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from notices.cases.outgoing import Outcome
from notices.cases.records import Posting
from notices.work import marks, tries
from notices.work.crew import Job
from notices.work.marks import Mark
from notices.work.ports import Transaction


@dataclass(frozen=True, kw_only=True, slots=True)
class Turn:
    """What is left in stock, when the next may go, what was passed over, what begins, and the mark to leave."""

    stock: deque[Posting]
    slot: datetime
    passed: Counter[str]
    jobs: list[Job]
    mark: Mark


def take(
    tx: Transaction,
    done: Sequence[tuple[Job, Outcome]],
    stock: Iterable[Posting],
    *,
    free: int,
    slot: datetime,
    gap: timedelta,
    asks: tuple[tries.LookAgain, tries.Message],
    now: datetime,
) -> Turn:
    """Write what is *done* and begin up to *free* of *stock*; nothing given in changes, for this may be done again."""
    left, passed, jobs = deque(stock), Counter[str](), list[Job]()
    look_again, message = asks
    for job, outcome in done:
        tries.end(tx, job, outcome, now=now)
    while left and len(jobs) < free and slot <= now:
        begun = tries.begin(tx, left.popleft(), look_again=look_again, message=message, now=now)
        if isinstance(begun, Job):
            jobs.append(begun)
            slot = now + gap
        else:
            passed[begun.result] += 1
    return Turn(stock=left, slot=slot, passed=passed, jobs=jobs, mark=marks.count(tx, len(jobs)))
