"""The processes of one trial as the harness steers them: the mail server, and the nurseries of senders."""

import json
import os
import signal
import subprocess
import sys
from collections import Counter, deque
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass, field
from pathlib import Path
from queue import Empty, Queue
from threading import Thread
from typing import Any

from tests.faults.sender import Job
from tests.faults.windows import Order
from tests.source import ROOT

_PATIENCE = 90.0


class SilentError(Exception):
    """A process of the trial no longer answers."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """One thing that a process said; *by* names it."""

    by: str
    what: dict[str, Any]


class Voice:
    """A process that is steered by lines and answers in lines, which come in *heard*."""

    def __init__(self, name: str, module: str, *arguments: str, heard: "Queue[Said]") -> None:
        self.name = name
        command = [sys.executable, "-m", module, *arguments]
        self._process = subprocess.Popen(
            command, cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        self._heard = heard
        self._listener = Thread(target=self._listen, daemon=True)
        self._listener.start()

    @property
    def pid(self) -> int:
        """Return the process's number."""
        return self._process.pid

    def tell(self, line: str) -> None:
        """Say one line to it."""
        assert self._process.stdin is not None
        self._process.stdin.write(line + "\n")
        self._process.stdin.flush()

    def end(self) -> None:
        """End its input, and with it the process."""
        assert self._process.stdin is not None
        self._process.stdin.close()
        try:
            self._process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        self._listener.join(timeout=10)
        assert self._process.stdout is not None
        self._process.stdout.close()

    def _listen(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            self._heard.put(Said(by=self.name, what=json.loads(line)))
        self._heard.put(Said(by=self.name, what={"say": "over"}))


@dataclass
class Taken:
    """What the server took: copies by address, and the different Message-IDs and bytes under each."""

    copies: Counter[str] = field(default_factory=Counter)
    ids: dict[str, set[str]] = field(default_factory=dict)
    digests: dict[str, set[str]] = field(default_factory=dict)

    def note(self, what: dict[str, Any]) -> None:
        """Note one message."""
        self.copies[what["to"]] += 1
        self.ids.setdefault(what["to"], set()).add(what["message_id"])
        self.digests.setdefault(what["to"], set()).add(what["digest"])


class Cast:
    """The mail server and the nurseries of one trial."""

    def __init__(self, whole: Path, senders: int) -> None:
        self._heard: Queue[Said] = Queue()
        self._kept: deque[Said] = deque()
        self._peer = Voice("peer", "tests.faults.peer", heard=self._heard)
        self._nurseries = {
            name: Voice(name, "tests.faults.nursery", str(whole), heard=self._heard)
            for name in (f"sender-{n + 1}" for n in range(senders))
        }
        self.taken = Taken()
        self.living: dict[str, int] = {}
        self.port: int = self.expect("port")["port"]
        for _ in self._nurseries:
            self.expect("ready")
        pids = [one.pid for one in self._nurseries.values()]
        self._peer.tell(json.dumps({"do": "families", "pids": pids}))

    @property
    def idle(self) -> list[str]:
        """Return the nurseries that have no living sender."""
        return [name for name in self._nurseries if name not in self.living]

    def send(self, name: str, job: Job) -> None:
        """Let one nursery bear a sender."""
        self._nurseries[name].tell(json.dumps(asdict(job)))
        self.expect("born", name)

    def order(self, order: Order | None) -> None:
        """Tell the server whom to kill when; None takes back what has not happened."""
        self._peer.tell(order.to_json() if order else json.dumps({"do": "disarm"}))

    def sync(self) -> Counter[str]:
        """Return the copies the server took by this moment."""
        self._peer.tell(json.dumps({"do": "sync"}))
        self.expect("synced")
        return Counter(self.taken.copies)

    def settle(self, pid: int) -> None:
        """Wait until the server has read all that a dead process had sent."""
        self._peer.tell(json.dumps({"do": "settle", "pid": pid}))
        if not self.expect("settled")["calm"]:
            raise SilentError("a connection outlived its process")

    def next(self) -> Said:
        """Return the next killing or end of a sender."""
        while not self._kept:
            self._hear()
        return self._kept.popleft()

    def expect(self, what: str, by: str | None = None) -> dict[str, Any]:
        """Return the next thing of this sort that is said, by whomever or by *by*."""
        while True:
            said = self._hear()
            if said.what["say"] == what and by in {None, said.by}:
                return said.what

    def _hear(self) -> Said:
        """Hear one thing, bring the living and the copies up to date, and keep killings and ends for later."""
        try:
            said = self._heard.get(timeout=_PATIENCE)
        except Empty:
            raise SilentError(f"nothing was heard for {_PATIENCE:.0f} seconds") from None
        match said.what["say"]:
            case "over":
                raise SilentError(f"the process {said.by} has ended")
            case "took":
                self.taken.note(said.what)
            case "born":
                self.living[said.by] = said.what["pid"]
            case "ended":
                self.living.pop(said.by, None)
                self._kept.append(said)
            case "killed":
                self._kept.append(said)
        return said

    def close(self) -> None:
        """End them all, and first whoever is still sending because the trial broke off."""
        for pid in self.living.values():
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        for one in (*self._nurseries.values(), self._peer):
            one.end()


@contextmanager
def cast(whole: Path, senders: int) -> Iterator[Cast]:
    """Yield the processes of a trial, and end them."""
    made = Cast(whole, senders)
    try:
        yield made
    finally:
        made.close()
