"""One trial: an outbox whose senders are killed again and again, begun anew each time, and held against the laws."""

import json
import time
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from notices import assembly
from notices.cases.records import PostingState
from notices.settings import Settings
from notices.store import open_register
from notices.work import posting
from notices.work.ports import Register
from tests.faults import laws
from tests.faults.laws import Killing, Ledger
from tests.faults.outboxes import BEGAN, Outbox, copied
from tests.faults.processes import Cast, SilentError, cast
from tests.faults.sender import Job
from tests.faults.windows import Order, Window

_AFTER_A_DOUBT = timedelta(minutes=31)  # what is in doubt may go once more after 30
_AFTER_A_DELAY = timedelta(hours=3)  # what is put off at a later try waits two and a half hours
_LAST_PAUSES = (_AFTER_A_DOUBT, _AFTER_A_DELAY, _AFTER_A_DELAY)
_KILLED = -9


@dataclass(frozen=True, kw_only=True, slots=True)
class Trial:
    """How one outbox is tried: *connections* a sender, *rounds* of orders with the pause between them."""

    name: str
    connections: int
    senders: int
    rounds: Sequence[Sequence[Order]]
    server: str | None = None


@dataclass(kw_only=True)
class Verdict:
    """What came of a trial."""

    trial: Trial
    ledger: Ledger
    states: dict[PostingState, int] = field(default_factory=dict)
    copies: int = 0
    twice: int = 0
    missing: int = 0
    seconds: float = 0.0


class _Run:
    """A trial on its way."""

    def __init__(self, trial: Trial, outbox: Outbox, register: Register, actors: Cast) -> None:
        self._trial = trial
        self._outbox = outbox
        self._register = register
        self._cast = actors
        self._base = BEGAN
        self._since = time.monotonic()
        self._jobs = 0
        self._recent: deque[Window] = deque(maxlen=2)
        self.ledger = Ledger(connections=trial.connections)

    def kill(self, order: Order) -> None:
        """Have one sender killed as *order* says, with every sender at work, and look at what it left."""
        self._recent.append(order.window)
        self._cast.order(order)
        what = self._killed()
        if what["pid"] is None:
            raise SilentError("the mail server could not tell whose connection it was")
        self._cast.settle(what["pid"])
        killing = Killing(
            window=Window(what["window"]),
            pid=what["pid"],
            address=what["to"],
            before=what["before"],
            living=frozenset(self._cast.living.values()),
        )
        laws.after_a_kill(self.ledger, killing, self._register, self._now(), self._cast.sync)

    def _killed(self) -> dict[str, Any]:
        """Wait until the server says that it has killed, and the process is seen dead, in whichever order."""
        killed: dict[str, Any] | None = None
        dead: set[int] = set()
        self._begin()
        while killed is None or (killed["pid"] is not None and killed["pid"] not in dead):
            what = self._cast.next().what
            if what["say"] == "killed":
                killed = what
            elif what["status"] == _KILLED:
                dead.add(what["pid"])
            else:
                self._ended(what)
                self._again(anybody=killed is not None or bool(dead))
        return killed

    def _again(self, *, anybody: bool) -> None:
        """Begin anew who ended in order before the kill, as long as there is something to send."""
        if anybody:
            return
        if not self._waiting() and not self._cast.living:
            raise SilentError("the outbox ran empty before the kill")
        self._begin()

    def finish(self) -> None:
        """Let the senders go on in peace until nothing more can go now."""
        self._cast.order(None)
        self._begin()
        while self._cast.living:
            self._ended(self._cast.next().what)

    def pause(self, length: timedelta = _AFTER_A_DOUBT) -> None:
        """Let time pass on the given clock."""
        self._base += length

    def _begin(self) -> None:
        for name in self._cast.idle:
            self._jobs += 1
            job = Job(
                folder=str(self._outbox.folder),
                register=self._outbox.register,
                base=self._base.isoformat(),
                since=self._since,
                result=str(self._outbox.folder / f"result-{self._jobs}.json"),
            )
            self._cast.send(name, job)

    def _ended(self, what: dict[str, Any]) -> None:
        """Note a sender that did not end in order."""
        if what["status"] != 0:
            said = sorted(self._outbox.folder.glob("result-*.fault"))
            why = said[-1].read_text("utf-8").strip().splitlines()[-1] if said else self._last_words()
            if Window.AWAY in self._recent and "ConnectionRefusedError" in why:
                return  # it called for the first time just while the port was shut, and said so
            self.ledger.hold("a sender stopped", [f"status {what['status']}: {why}"], when="a run")

    def _last_words(self) -> str:
        found = sorted(self._outbox.folder.glob("result-*.json"), key=lambda one: one.stat().st_mtime)
        return str(json.loads(found[-1].read_text("utf-8"))["stopped_because"]) if found else "in silence"

    def _waiting(self) -> int:
        """Count what waits and may go now."""
        now = self._now()
        with self._register.look() as tx:
            waiting = list(tx.outbox.postings(state=PostingState.WAITING))
        return sum(one.not_before is None or one.not_before <= now for one in waiting)

    def _now(self) -> datetime:
        return self._base + timedelta(seconds=time.monotonic() - self._since)

    def each_run_has_its_row(self) -> None:
        """Hold that no two processes shared the row by which a run is seen and steered."""
        with self._register.look() as tx:
            runs = len(tx.record.runs())
        if runs != self._jobs:
            self.ledger.hold("runs share a row", [f"{runs} rows of {self._jobs} runs"], when="at the end")

    def owes_nothing(self) -> None:
        """Hold that nobody who was told, or may have been, would be written to anew."""
        with assembly.opened(
            self._outbox.folder, Settings(register=self._outbox.register), now=self._now
        ) as world:
            made = posting.prepare(world).made
        self.ledger.hold("written anew for who was told", range(made), when="at the end")


def run(trial: Trial, whole: Outbox, folder: Path) -> Verdict:
    """Run a trial on a copy of *whole* below *folder*."""
    began = time.monotonic()
    with copied(whole, folder, server=trial.server) as outbox:
        register = open_register(outbox.register, now=BEGAN)
        try:
            with cast(whole.folder, trial.senders) as actors:
                verdict = _run(trial, outbox, register, actors)
        finally:
            register.close()
    verdict.seconds = time.monotonic() - began
    return verdict


def _run(trial: Trial, outbox: Outbox, register: Register, actors: Cast) -> Verdict:
    _address(outbox, actors.port, trial.connections)
    going = _Run(trial, outbox, register, actors)
    verdict = Verdict(trial=trial, ledger=going.ledger)
    try:
        for number, orders in enumerate(trial.rounds):
            if number:
                going.pause()
            for order in orders:
                going.kill(order)
            going.finish()
        for length in _LAST_PAUSES:
            going.pause(length)
            going.finish()
        actors.sync()
        verdict.states = laws.at_the_end(going.ledger, register, actors.taken, count=outbox.count)
        going.each_run_has_its_row()
        going.owes_nothing()
    except SilentError as fault:
        going.ledger.hold("the trial broke off", [fault], when="a trial")
    verdict.copies = actors.taken.copies.total()
    verdict.twice = sum(count > 1 for count in actors.taken.copies.values())
    with register.look() as tx:
        verdict.missing = len(laws.missing(tx.outbox.postings(), actors.taken))
    return verdict


def _address(outbox: Outbox, port: int, connections: int) -> None:
    text = (
        f'host = "127.0.0.1"\nport = {port}\nsecurity = "none"\npace = "none"\nconnections = {connections}\n'
    )
    (outbox.folder / "mail.toml").write_text(text, "utf-8")
