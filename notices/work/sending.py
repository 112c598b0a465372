"""Send what the outbox holds: the most endangered first, each try recorded before it begins, nothing in silence."""

from collections import Counter, deque
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from notices.cases.outgoing import Outcome, Pace, WayOutError
from notices.cases.records import Posting
from notices.work import runs, tries
from notices.work.crew import Crew, Job
from notices.work.ports import WayOut, World

ALL_OUT = "everything that was due has gone out"
_BATCH = 100
_STOCK_SECONDS = 120.0  # a slow run leases no more than it can begin long before the lease ends
_BEAT = timedelta(seconds=15)
_LOOK = timedelta(seconds=60)
_SLICE = 1.0
_RECONNECT_SECONDS = (5.0, 30.0, 60.0)
_LINE_FAULTS = 5
_REFUSALS = 10
_AFTER_A_STOP = timedelta(minutes=5)


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """How a run is to go, and what it asks about each posting.

    *message(tx, posting, date)* makes the bytes and envelope, the same for the same arguments; *look_again* says
    why a posting is withdrawn, None where it still holds; *gone* whether a worker's process has ended; *halted*
    why the run is to stop, None while it may go on; *seen* hears of each outcome once it is recorded.
    """

    worker: str
    begun_by: str
    pace: Pace
    message: tries.Message
    look_again: tries.LookAgain
    gone: Callable[[str], bool]
    sleep: Callable[[float], None]
    halted: Callable[[], str | None] = lambda: None
    seen: Callable[[Posting, Outcome], None] = lambda _posting, _outcome: None
    connections: int = 1
    channel: str = "email"


@dataclass(frozen=True, kw_only=True, slots=True)
class Sent:
    """What a run did, what still waits, when to run again, and why it stopped; *finished* where nothing was in its way."""

    handed_over: int = 0
    refused: int = 0
    in_doubt: int = 0
    withdrawn: int = 0
    later: int = 0
    waiting: int = 0
    next_at: datetime | None = None
    stopped_because: str = ALL_OUT
    finished: bool = True


class _StopError(Exception):
    """The run ends here; *temporary* where a later one may go through as it is."""

    def __init__(self, why: str, *, temporary: bool = False) -> None:
        self.why = why
        self.temporary = temporary
        super().__init__(why)


def send(world: World, way: WayOut, plan: Plan) -> Sent:
    """Send every posting of the channel that is due, until none is left or something stops the run.

    Rule 4 of the design: a crash at any instant leaves each posting handed over, waiting, refused, or in doubt.
    Raises RegisterError where the register fails; whatever else goes wrong outside is told in the result.
    """
    return _Sending(world, way, plan).run()


class _Sending:
    """One run; only its own thread touches the register."""

    def __init__(self, world: World, way: WayOut, plan: Plan) -> None:
        self._world = world
        self._way = way
        self._plan = plan
        self._tally: Counter[str] = Counter()
        self._stock: deque[Posting] = deque()
        self._done: list[tuple[Job, Outcome]] = []
        self._slot = self._beat_at = self._look_at = world.now()
        self._in_a_row: Counter[str] = Counter()
        self._crew: Crew | None = None

    def run(self) -> Sent:
        with self._world.register.change() as tx:
            self._run = runs.begin(tx, worker=self._plan.worker, begun_by=self._plan.begun_by,
                                   pace=self._plan.pace.text, now=self._world.now())
        why, temporary = "stopped by a fault of this program", False
        try:
            self._look()
            self._crew = Crew(self._way, self._plan.connections)
            self._go()
            why = ALL_OUT
        except _StopError as stop:
            why, temporary = stop.why, stop.temporary
        except WayOutError as fault:
            why, temporary = str(fault), fault.temporary
        except KeyboardInterrupt:
            why = "stopped by Ctrl-C"
        finally:
            sent = self._close(why, temporary=temporary)
        return sent

    def _go(self) -> None:
        """Go round until nothing is due: hear what is done, write it together with what begins, give it out."""
        while True:
            self._check()
            now = self._world.now()
            if now >= self._look_at:
                self._look()
            self._fill(now)
            if not (self._stock or self._done or self._hands.busy):
                return
            self._round()

    @property
    def _hands(self) -> Crew:
        assert self._crew is not None  # noqa: S101 - a fault of ours: asked before the first line was opened
        return self._crew

    def _round(self) -> None:
        """Wait for whatever comes first: a slot in the pace with a free hand, or a job that is done."""
        now = self._world.now()
        pause = max((self._slot - now).total_seconds(), 0.0)
        if self._stock and self._hands.free and not pause:
            self._write(now)
        elif self._hands.free and not self._hands.busy and not self._done:
            self._plan.sleep(min(pause, _SLICE))
        self._done.extend(self._hands.hear(self._patience(pause)))
        if self._done and (pause or not self._stock or not self._hands.free):
            self._write(now)

    def _patience(self, pause: float) -> float:
        """Return how long to listen: not at all while a job could begin at once."""
        if self._stock and self._hands.free:
            return min(pause, _SLICE)
        return _SLICE

    def _write(self, now: datetime) -> None:
        """Commit what is done and what begins in one transaction, then give the beginnings to the hands."""
        done, self._done = self._done, []
        try:
            jobs = self._commit(done, now)
        except BaseException:
            self._done = done
            raise
        for job in jobs:
            self._hands.give(job)
        self._count(done)

    def _commit(self, done: list[tuple[Job, Outcome]], now: datetime) -> list[Job]:
        jobs: list[Job] = []
        slot, passed, stock = self._slot, Counter[str](), deque(self._stock)
        with self._world.register.change() as tx:
            for job, outcome in done:
                tries.end(tx, job, outcome, now=now)
            while stock and len(jobs) < self._hands.free and slot <= now:
                begun = tries.begin(tx, stock.popleft(), look_again=self._plan.look_again,
                                    message=self._plan.message, now=now)
                if isinstance(begun, Job):
                    jobs.append(begun)
                    slot = max(slot, now - timedelta(seconds=self._plan.pace.gap)) + timedelta(seconds=self._plan.pace.gap)
                else:
                    passed[begun.result] += 1
        self._slot, self._stock = slot, stock
        self._tally += passed
        return jobs
