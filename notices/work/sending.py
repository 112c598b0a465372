"""Send what the outbox holds: the most endangered first, each try recorded before it begins, nothing in silence."""

from collections import Counter, deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from notices.cases.outgoing import Outcome, Pace, WayOutError
from notices.cases.records import Posting, PostingState
from notices.work import marks, runs, tries, turns
from notices.work.beginning import LookAgain, Messages
from notices.work.crew import Crew, Job
from notices.work.patience import Result, changed
from notices.work.ports import Transaction, World
from notices.work.stops import ALL_OUT, Stop, StopError, Watch
from notices.work.ways_out import WayOut

_BATCH = 100
_STOCK_SECONDS = 120.0  # a slow run leases no more than it begins long before the lease ends
_BEAT = timedelta(seconds=15)
_LOOK = timedelta(seconds=60)
_SLICE = 1.0
# A server that is started anew is back within a minute or so; whatever takes longer is for the next run.
_RECONNECT_SECONDS = (5, 15, 45)
_AFTER_A_STOP = timedelta(minutes=5)


@dataclass(frozen=True, kw_only=True, slots=True)
class Plan:
    """How a run is to go, and what it asks about each posting.

    *messages(tx, postings)* returns what makes envelope and bytes of each, the same for the same posting and moment;
    *look_again(tx, postings)* says why some are withdrawn; *gone* whether a worker's process has ended; *halted* why
    the run is to stop, None while it may go on; *seen* hears of each outcome once it is recorded; *mark* keeps how
    many tries there were, outside the register and before their messages leave, or raises OSError.
    """

    worker: str
    begun_by: str
    pace: Pace
    messages: Messages
    look_again: LookAgain
    gone: Callable[[str], bool]
    sleep: Callable[[float], None]
    halted: Callable[[], str | None] = lambda: None
    seen: Callable[[Posting, Outcome], None] = lambda _posting, _outcome: None
    mark: Callable[[marks.Mark], None] = lambda _mark: None
    connections: int = 1
    channel: str = "email"


@dataclass(frozen=True, kw_only=True, slots=True)
class Sent:
    """What a run did, what waits, when to run again, why it stopped; *finished* where nothing was in its way."""

    handed_over: int = 0
    refused: int = 0
    in_doubt: int = 0
    withdrawn: int = 0
    later: int = 0
    waiting: int = 0
    next_at: datetime | None = None
    stopped_because: str = ALL_OUT
    finished: bool = True


def send(world: World, way: WayOut, plan: Plan) -> Sent:
    """Send every posting of the channel that is due, until none is left or something stops the run.

    A crash at any instant leaves each posting handed over, waiting, refused, or in doubt with the reason.
    Raises RegisterError where the register fails; whatever else goes wrong outside is told in the result.
    """
    return _Sending(world, way, plan).run()


class _Sending:
    """One run; only its own thread touches the register."""

    def __init__(self, world: World, way: WayOut, plan: Plan) -> None:
        self._world = world
        self._way = way
        self._plan = plan
        self._gap = timedelta(seconds=plan.pace.gap)
        self._tally: Counter[str] = Counter()
        self._watch = Watch()
        self._stock: deque[Posting] = deque()
        self._done: list[tuple[Job, Outcome]] = []
        self._crew: Crew | None = None
        self._slot = self._look_at = world.now()
        self._beat_at = self._slot + _BEAT
        with world.register.change() as tx:
            self._run = runs.begin(
                tx, worker=plan.worker, begun_by=plan.begun_by, pace=plan.pace.text, now=self._slot
            )

    def run(self) -> Sent:
        """Open the first line, go round, and whatever happens end the run in the register."""
        stop = Stop(sort="fault", why="stopped by a fault of this program")
        try:
            self._look()
            self._crew = Crew(self._way, self._plan.connections)
            self._go(self._crew)
            stop = Stop(sort="done", why=ALL_OUT)
        except StopError as said:
            stop = said.stop
        except WayOutError as fault:
            stop = Stop(sort="way-out", why=str(fault), temporary=fault.temporary)
        except KeyboardInterrupt:
            stop = Stop(sort="halted", why="stopped by Ctrl-C")
        finally:
            sent = self._end(stop)
        return sent

    def _go(self, crew: Crew) -> None:
        """Go round until nothing is due: write what is done together with what begins, give it out, listen."""
        while True:
            self._attend(crew)
            now = self._world.now()
            if self._run.wanted == "go" and len(self._stock) < crew.free:
                self._claim(now, crew)
            if not (self._stock or self._done or crew.busy) and self._run.wanted == "go":
                return
            if self._done or (self._stock and crew.free and self._slot <= now):
                self._write(crew, now)
            if crew.lost:
                crew = self._reconnect(crew)
            self._listen(crew)

    def _attend(self, crew: Crew) -> None:
        """Stop where somebody wants it; beat, and look for doubts, when it is time."""
        why = self._plan.halted()
        if why is not None:
            raise StopError(Stop(sort="halted", why=why))
        now = self._world.now()
        if now >= self._beat_at:
            self._beat_at = now + _BEAT
            self._change(lambda tx: self._beat(tx, crew, now))
        if now >= self._look_at:
            self._look()
        if self._run.wanted == "stop":
            raise StopError(Stop(sort="halted", why="the run was told to stop"))
        if self._run.wanted == "pause":
            self._release()

    def _beat(self, tx: Transaction, crew: Crew, now: datetime) -> None:
        self._run = runs.beat(tx, self._run, now=now)
        tries.renew(tx, crew.busy.values(), until=now + tries.LEASE)

    def _change(self, change: Callable[[Transaction], Result]) -> Result:
        return changed(self._world.register, change, sleep=self._plan.sleep)

    def _look(self) -> None:
        """Take over from workers that are gone, and settle doubts or let them go once more."""
        now, plan = self._world.now(), self._plan
        self._look_at = now + _LOOK

        def look(tx: Transaction) -> list[Posting]:
            tries.take_over(tx, channel=plan.channel, gone=plan.gone, now=now)
            return tries.reconsider(tx, self._way, channel=plan.channel, look_again=plan.look_again, now=now)

        self._tally["handed_over"] += len(self._change(look))

    def _claim(self, now: datetime, crew: Crew) -> None:
        gap = self._plan.pace.gap
        limit = _BATCH if not gap else min(_BATCH, max(int(_STOCK_SECONDS / gap), crew.free))
        until = now + tries.LEASE
        claimed = self._change(
            lambda tx: tx.outbox.claim(
                self._plan.worker, channel=self._plan.channel, now=now, lease_until=until, limit=limit
            )
        )
        self._stock.extend(claimed)

    def _write(self, crew: Crew | None, now: datetime) -> None:
        """Commit what is done and what begins in one transaction; then give out the jobs and count."""
        done, self._done = self._done, []
        stop = self._watch.look_at([outcome for _, outcome in done])
        try:
            jobs = self._commit(done, crew.free if crew and not stop else 0, now)
        except BaseException:
            self._done = done
            raise
        for job in jobs:
            if crew:
                crew.give(job)
        for job, outcome in done:
            self._tally[outcome.result] += 1
            self._plan.seen(job.posting, outcome)
        if stop:
            raise StopError(stop)

    def _commit(self, done: Sequence[tuple[Job, Outcome]], free: int, now: datetime) -> list[Job]:
        turn = self._change(
            lambda tx: turns.take(
                tx,
                done,
                self._stock,
                free=free,
                slot=self._slot,
                gap=self._gap,
                asks=(self._plan.look_again, self._plan.messages),
                now=now,
            )
        )
        self._stock, self._slot = turn.stock, turn.slot
        self._tally += turn.passed
        return self._marked(turn)

    def _marked(self, turn: turns.Turn) -> list[Job]:
        """Leave the mark outside the register; where that cannot be, none of the turn's jobs goes out."""
        try:
            if turn.jobs:
                self._plan.mark(turn.mark)
        except OSError as fault:
            self._done.extend((job, marks.unmarked(fault)) for job in turn.jobs)
            return []
        return turn.jobs

    def _listen(self, crew: Crew) -> None:
        """Wait for what comes first: a job done, or the next slot; never longer than a second."""
        pause = max((self._slot - self._world.now()).total_seconds(), 0.0)
        wait = min(pause, _SLICE) if self._stock and crew.free else _SLICE
        if crew.waits:
            self._done.extend(crew.hear(wait))
        elif wait and (self._stock or self._run.wanted == "pause"):
            self._plan.sleep(wait)

    def _reconnect(self, crew: Crew) -> Crew:
        """Open lines anew after a pause; give up where the fault lasts or waiting does not help."""
        fault = crew.fault or WayOutError("the connection was lost", temporary=True)
        crew.dismiss()
        for pause in _RECONNECT_SECONDS:
            if not fault.temporary:
                break
            for _ in range(pause):
                self._plan.sleep(_SLICE)
                self._attend(crew)
            try:
                self._crew = Crew(self._way, self._plan.connections)
            except WayOutError as again:
                fault = again
            else:
                return self._crew
        raise fault

    def _end(self, stop: Stop) -> Sent:
        """Let what is going out finish, write it, give back the leases, and say why the run ended."""
        if self._crew is not None:
            self._crew.dismiss()
            self._done.extend(self._crew.hear(0.0))
        for one in self._finish():
            stop = stop if stop.sort != "done" else one
        self._release()
        now = self._world.now()
        with self._world.register.change() as tx:
            runs.end(tx, self._run, why=stop.why, sort=stop.sort, now=now)
            soonest = tries.next_at(tx, channel=self._plan.channel, now=now)
            waiting = sum(
                one.channel == self._plan.channel for one in tx.outbox.postings(state=PostingState.WAITING)
            )
        if soonest and stop.temporary:
            soonest = max(soonest, now + _AFTER_A_STOP)
        return Sent(
            handed_over=self._tally["handed_over"],
            refused=self._tally["refused"],
            in_doubt=self._tally["in_doubt"],
            withdrawn=self._tally["withdrawn"],
            later=self._tally["later"],
            waiting=waiting,
            next_at=soonest if stop.temporary or stop.sort == "done" else None,
            stopped_because=stop.why,
            finished=stop.sort == "done",
        )

    def _finish(self) -> list[Stop]:
        """Write the last outcomes one by one, so that no fault in one loses another."""
        last, self._done = self._done, []
        stops: list[Stop] = []
        faults: list[Exception] = []
        for one in last:
            self._done = [one]
            try:
                self._write(None, self._world.now())
            except StopError as said:
                stops.append(said.stop)
            except Exception as fault:  # noqa: BLE001 - raised below, once the others are written
                faults.append(fault)
        self._done = []
        if faults:
            raise faults[0]
        return stops

    def _release(self) -> None:
        if self._stock:
            self._change(lambda tx: tries.release(tx, self._stock))
            self._stock.clear()
