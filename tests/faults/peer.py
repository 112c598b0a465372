"""A mail server in a process of its own, which kills the sender that speaks to it at the moment it is told.

It is steered by lines of JSON on its input and says what happened by lines of JSON on its output.
"""

import hashlib
import json
import os
import signal
import socket
import sys
import time
from contextlib import suppress
from dataclasses import replace
from io import BufferedRWPair
from pathlib import Path
from threading import Condition, Thread

from tests.faults.windows import Order, Window

GONE_EVERY = 40  # every fortieth address is none
LATER_EVERY = 40  # and as many are put off at their first try
LATER_REST = 7


class _HangUpError(Exception):
    pass


class Peer:
    """Everything the connections share; one condition guards it."""

    def __init__(self) -> None:
        self.guard = Condition()
        self.order: Order | None = None
        self.families: list[int] = []
        self.put_off: set[str] = set()
        self.open: dict[int, int | None] = {}
        self.socket = socket.create_server(("127.0.0.1", 0), backlog=64)
        self.port: int = self.socket.getsockname()[1]

    def say(self, **what: object) -> None:
        """Say one thing that happened; the guard must be held, so that things are said in their order."""
        sys.stdout.write(json.dumps(what) + "\n")
        sys.stdout.flush()

    def accept(self) -> None:
        """Serve each connection in a thread of its own, for as long as the process lives."""
        number = 0
        while True:
            try:
                accepted, _ = self.socket.accept()
            except OSError:
                time.sleep(0.0005)  # the port is shut for the moment
                continue
            number += 1
            Thread(target=Talk(self, accepted, number).serve, daemon=True).start()

    def due(self, window: Window) -> Order | None:
        """Return the order where it is for this window and now; it is given once."""
        with self.guard:
            order = self.order
            if order is None or order.window is not window:
                return None
            if order.turn > 1:
                self.order = replace(order, turn=order.turn - 1)
                return None
            self.order = None
            return order

    def shut(self) -> None:
        """Refuse connections from now on; shutting down first, for a thread waits in accept."""
        with suppress(OSError):
            self.socket.shutdown(socket.SHUT_RDWR)
        self.socket.close()

    def reopen(self) -> None:
        """Take connections again, at the same port."""
        self.socket = socket.create_server(("127.0.0.1", self.port), backlog=64)

    def obey(self, line: str) -> None:
        """Do what the harness says."""
        said = json.loads(line)
        with self.guard:
            match said["do"]:
                case "order":
                    raw = said["order"]
                    self.order = Order(**(raw | {"window": Window(raw["window"])}))
                case "disarm":
                    self.order = None
                case "families":
                    self.families = said["pids"]
                case "sync":
                    self.say(say="synced")
                case "settle":
                    calm = self.guard.wait_for(lambda: said["pid"] not in self.open.values(), timeout=20)
                    self.say(say="settled", calm=calm)


class Talk:
    """One connection."""

    def __init__(self, peer: Peer, accepted: socket.socket, number: int) -> None:
        self._peer = peer
        self._socket = accepted
        self._number = number
        self._pid: int | None = None
        self._recipient = ""
        self._before = ""
        self._kills_at_rset: Order | None = None

    def serve(self) -> None:
        """Talk until either side hangs up."""
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._pid = process_of(self._socket.getpeername()[1], self._peer.families)
        with self._peer.guard:
            self._peer.open[self._number] = self._pid
        stream: BufferedRWPair = self._socket.makefile("rwb")
        try:
            with suppress(_HangUpError, OSError):
                self._reply("220 mail.aldmere.example ESMTP")
                while line := stream.readline():
                    self._answer(stream, line.decode("latin-1").rstrip("\r\n"))
        finally:
            self._hang_up()
            with self._peer.guard:
                del self._peer.open[self._number]
                self._peer.guard.notify_all()

    def _answer(self, stream: BufferedRWPair, command: str) -> None:
        match command.partition(" ")[0].upper():
            case "EHLO":
                self._ehlo()
            case "MAIL":
                self._mail()
            case "RCPT":
                self._rcpt(command.partition("<")[2].partition(">")[0])
            case "DATA":
                self._data(stream)
            case "RSET":
                if self._kills_at_rset:
                    self._kill(self._kills_at_rset)
                self._reply("250 2.0.0 fine")
            case "QUIT":
                self._reply("221 2.0.0 bye")
                raise _HangUpError
            case _:
                self._reply("250 2.0.0 fine")

    def _ehlo(self) -> None:
        with self._peer.guard:
            order = self._peer.order
        extra = "250-PIPELINING\r\n" if order is None or order.pipelining else ""
        self._reply(f"250-mail.aldmere.example\r\n{extra}250 8BITMIME")

    def _mail(self) -> None:
        self._recipient = ""
        if self._before and (order := self._peer.due(Window.NEXT)):
            self._kill(order)
        if order := self._peer.due(Window.MAIL):
            self._kill(order)
        if order := self._peer.due(Window.AWAY):
            self._go_away(order)
        self._reply("250 2.1.0 fine")

    def _go_away(self, order: Order) -> None:
        """Refuse every connection, hang up this one, and kill shortly after: as if the server had died first."""
        self._peer.shut()
        self._hang_up()
        try:
            self._kill(order)
        finally:
            self._peer.reopen()

    def _rcpt(self, recipient: str) -> None:
        self._recipient = recipient
        number = int("".join(sign for sign in recipient.partition("@")[0] if sign.isdigit()) or 0)
        if number % GONE_EVERY == 0:
            self._recipient = ""
            self._reply("550 5.1.1 no such user")
            return
        if number % LATER_EVERY == LATER_REST and recipient not in self._peer.put_off:
            self._peer.put_off.add(recipient)
            self._recipient = ""
            self._reply("451 4.7.1 greylisted")
            return
        if order := self._peer.due(Window.RSET):
            self._kills_at_rset = order
            self._reply("452 4.2.2 mailbox full")
            return
        self._reply("250 2.1.5 fine")
        if order := self._peer.due(Window.RCPT):
            self._kill(order)

    def _data(self, stream: BufferedRWPair) -> None:
        if not self._recipient or self._kills_at_rset:
            self._reply("554 5.5.1 no valid recipients")
            return
        self._reply("354 go on")
        data = self._body(stream)
        if order := self._peer.due(Window.DOT):
            self._took(data, kept=order.keep)
            self._kill(order)
        order = self._peer.due(Window.REPLY)
        self._took(data, kept=True)
        self._reply("250 2.0.0 queued")
        if order:
            self._kill(order)
        self._before = self._recipient

    def _body(self, stream: BufferedRWPair) -> bytes:
        lines: list[bytes] = []
        order = self._peer.due(Window.BODY)
        limit = None if order is None else int(order.share * 60_000)
        size = 0
        while (line := stream.readline()) != b".\r\n":
            lines.append(line)
            size += len(line)
            if order and limit is not None and size >= limit:
                self._kill(order)
            if not line:
                if order:
                    self._kill(order)
                raise _HangUpError
        if order:  # shorter than the limit: at its last line, the dot unanswered
            self._took(b"".join(lines), kept=False)
            self._kill(order)
        return b"".join(lines)

    def _took(self, data: bytes, *, kept: bool) -> None:
        head = data.partition(b"\r\n\r\n")[0].decode("latin-1").splitlines()
        message_id = next(line.partition(" ")[2] for line in head if line.lower().startswith("message-id:"))
        digest = hashlib.sha256(data).hexdigest()
        with self._peer.guard:
            if kept:
                self._peer.say(say="took", to=self._recipient, message_id=message_id, digest=digest)

    def _kill(self, order: Order) -> None:
        """End the sender's process this instant, and say so."""
        if order.delay:
            until = time.perf_counter() + order.delay
            while time.perf_counter() < until:
                pass
        if self._pid is not None:
            with suppress(ProcessLookupError):
                os.kill(self._pid, signal.SIGKILL)
        with self._peer.guard:
            self._peer.say(
                say="killed", window=order.window, pid=self._pid, to=self._recipient, before=self._before
            )
        raise _HangUpError

    def _reply(self, text: str) -> None:
        self._socket.sendall(f"{text}\r\n".encode("ascii"))

    def _hang_up(self) -> None:
        with suppress(OSError):
            self._socket.shutdown(socket.SHUT_RDWR)
        self._socket.close()


def process_of(port: int, families: list[int]) -> int | None:
    """Return the child of one of *families* that speaks from this local TCP port (Linux: proc(5))."""
    rows = [line.split() for line in Path("/proc/net/tcp").read_text("ascii").splitlines()[1:]]
    wanted = {f"socket:[{row[9]}]" for row in rows if row[1].endswith(f":{port:04X}")}
    for parent in families:
        with suppress(OSError):
            for child in Path(f"/proc/{parent}/task/{parent}/children").read_text("ascii").split():
                if _holds(Path(f"/proc/{child}/fd"), wanted):
                    return int(child)
    return None


def _holds(descriptors: Path, wanted: set[str]) -> bool:
    with suppress(OSError):
        for one in descriptors.iterdir():
            with suppress(OSError):
                if str(one.readlink()) in wanted:
                    return True
    return False


def main() -> None:
    """Serve until the input ends."""
    peer = Peer()
    with peer.guard:
        peer.say(say="port", port=peer.port)
    Thread(target=peer.accept, daemon=True).start()
    for line in sys.stdin:
        peer.obey(line)


if __name__ == "__main__":
    main()
