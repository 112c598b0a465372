"""The threads that hand messages over, each with a line of its own; they touch no register."""

from dataclasses import dataclass, replace
from queue import Empty, Queue, SimpleQueue
from threading import Thread

from notices.cases.outgoing import Outcome, Parcel, WayOutError
from notices.cases.records import Posting, Try
from notices.work.ways_out import Line, WayOut

_CLOSING = 421


@dataclass(frozen=True, kw_only=True, slots=True)
class Job:
    """One posting whose try has been recorded, and the message to hand over."""

    posting: Posting
    tries: tuple[Try, ...]
    parcel: Parcel


@dataclass(frozen=True, kw_only=True, slots=True)
class Report:
    """What one thread has to say: a job with its outcome, or why it has no line any more."""

    hand: int
    job: Job | None = None
    outcome: Outcome | None = None
    fault: WayOutError | None = None


class Crew:
    """As many hands as there are connections."""

    def __init__(self, way: WayOut, connections: int) -> None:
        """Open the first line at once, so that a wrong password is known; raises WayOutError."""
        self._way = way
        self._reports: Queue[Report] = Queue()
        self._inboxes: list[SimpleQueue[Job | None]] = [SimpleQueue() for _ in range(connections)]
        lines: list[Line | None] = [way.open(), *[None] * (connections - 1)]
        self._idle = [0]
        self._opening = set(range(1, connections))
        self.busy: dict[int, Job] = {}
        self.fault: WayOutError | None = None
        self._threads = [
            Thread(target=self._work, args=(hand, line), name=f"line-{hand + 1}", daemon=True)
            for hand, line in enumerate(lines)
        ]
        for thread in self._threads:
            thread.start()

    @property
    def free(self) -> int:
        """Return how many jobs can be given out now."""
        return len(self._idle)

    @property
    def lost(self) -> bool:
        """Say whether no hand has a line any more."""
        return not (self._idle or self.busy or self._opening)

    @property
    def waits(self) -> bool:
        """Say whether there is anything to hear of."""
        return bool(self.busy or self._opening)

    def give(self, job: Job) -> None:
        """Let a free hand do a job."""
        hand = self._idle.pop(0)
        self.busy[hand] = job
        self._inboxes[hand].put(job)

    def hear(self, seconds: float) -> list[tuple[Job, Outcome]]:
        """Return what is done; where no hand is free, or all is waited for, wait *seconds* at most for one."""
        done: list[tuple[Job, Outcome]] = []
        wait = seconds if self.waits else 0.0
        while True:
            try:
                report = self._reports.get(timeout=wait) if wait else self._reports.get_nowait()
            except Empty:
                return done
            done.extend(self._note(report))
            wait = 0.0

    def dismiss(self) -> None:
        """Close the lines of all hands; what is busy finishes first."""
        for inbox in self._inboxes:
            inbox.put(None)
        for thread in self._threads:
            thread.join()

    def _note(self, report: Report) -> list[tuple[Job, Outcome]]:
        self._opening.discard(report.hand)
        job = self.busy.pop(report.hand, None)
        if report.fault is None:
            self._idle.append(report.hand)
        else:
            self.fault = report.fault
        return [(job, report.outcome)] if job and report.outcome else []

    def _work(self, hand: int, line: Line | None) -> None:
        """Do jobs until there is none; a line that failed is opened again before the next try is recorded."""
        if line is None:
            line = self._open(Report(hand=hand))
        while line is not None and (job := self._inboxes[hand].get()) is not None:
            outcome = _hand_over(line, job.parcel)
            report = Report(hand=hand, job=job, outcome=outcome)
            if is_line_fault(outcome):
                line.close()
                line = self._open(report)
            else:
                self._reports.put(report)
        if line is not None:
            line.close()

    def _open(self, report: Report) -> Line | None:
        """Open a line and send the report; with why, where there can be none."""
        try:
            line = self._way.open()
        except WayOutError as fault:
            self._reports.put(replace(report, fault=fault))
            return None
        self._reports.put(report)
        return line


def _hand_over(line: Line, parcel: Parcel) -> Outcome:
    try:
        return line.hand_over(parcel)
    except Exception as fault:  # noqa: BLE001 - a fault of ours in a thread must reach the register, not end unheard
        return Outcome(result="in_doubt", reply=f"a fault of this program: {type(fault).__name__}")


def is_line_fault(outcome: Outcome) -> bool:
    """Say whether it was the connection that failed, not this one message."""
    return outcome.result in {"later", "in_doubt"} and outcome.code in {None, _CLOSING}
