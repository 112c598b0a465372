"""One turn of a run, within one transaction: what is done is written, what may go begins, the tries are counted."""

from collections import Counter, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from notices.cases.outgoing import Outcome
from notices.cases.records import Posting
from notices.work import marks
from notices.work.beginning import LookAgain, Messages, begin
from notices.work.crew import Job
from notices.work.ending import end
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
    asks: tuple[LookAgain, Messages],
    now: datetime,
) -> Turn:
    """Write what is *done* and begin up to *free* of *stock*; nothing given in changes, for this may be done again."""
    left, passed, jobs = deque(stock), Counter[str](), list[Job]()
    look_again, messages = asks
    end(tx, done, now=now)
    # a pace lets one go at a time; without one, as many as there are connections are looked at together
    together = 1 if gap else free
    while left and len(jobs) < free and slot <= now:
        some = [left.popleft() for _ in range(min(together, free - len(jobs), len(left)))]
        for begun in begin(tx, some, look_again=look_again, messages=messages, now=now):
            if isinstance(begun, Job):
                jobs.append(begun)
                slot = now + gap
            else:
                passed[begun.result] += 1
    return Turn(stock=left, slot=slot, passed=passed, jobs=jobs, mark=marks.count(tx, len(jobs)))
