"""Mail servers for tests: one that plays a script, and one's own certificate authority."""

import re
import socket
import ssl
import subprocess
import time
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from io import BufferedRWPair
from pathlib import Path
from threading import Thread
from types import TracebackType
from typing import Self

from tests import needs

DROP = "drop"
Reply = str | Sequence[str]


@dataclass(frozen=True, kw_only=True)
class Script:
    """What the server says, each a reply or several in turn (the last holds on); DROP hangs up instead.

    *body_limit* hangs up after so many octets of a message; *pause* is how many seconds each reply takes.
    """

    greeting: Reply = "220 mail.example ESMTP"
    ehlo: tuple[str, ...] = ("PIPELINING", "8BITMIME")
    mail: Reply = "250 2.1.0 fine"
    rcpt: Reply = "250 2.1.5 fine"
    data: Reply = "354 go on"
    final: Reply = "250 2.0.0 queued as 1A"
    auth: Reply = "235 2.7.0 welcome"
    quit: Reply = "221 2.0.0 bye"
    rset: Reply = "250 2.0.0 fine"
    body_limit: int | None = None
    pause: float = 0.0


class _HangUpError(Exception):
    pass


class ScriptedServer:
    """A server on a port of its own that does as its script says; *messages* are as they came over the line."""

    def __init__(self, script: Script | None = None, *, context: ssl.SSLContext | None = None) -> None:
        self.script = script or Script()
        self.context = context
        self.commands: list[str] = []
        self.messages: list[bytes] = []
        self.connections = 0
        self._turns: dict[str, int] = {}
        self._socket = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._socket.getsockname()[1]
        self._open: list[socket.socket] = []

    def __enter__(self) -> Self:
        Thread(target=self._accept, daemon=True).start()
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _fault: BaseException | None, _trace: TracebackType | None
    ) -> None:
        with suppress(OSError):
            self._socket.shutdown(socket.SHUT_RDWR)
        self._socket.close()
        for one in self._open:
            _hang_up(one)

    def verbs(self) -> list[str]:
        """Return the first word of each command heard."""
        return [_verb(command) for command in self.commands]

    def _accept(self) -> None:
        while True:
            try:
                accepted, _ = self._socket.accept()
            except OSError:
                return
            accepted.setsockopt(
                socket.IPPROTO_TCP, socket.TCP_NODELAY, 1
            )  # as servers that answer several at once
            self.connections += 1
            self._open.append(accepted)
            Thread(target=self._serve, args=(accepted,), daemon=True).start()

    def _serve(self, accepted: socket.socket) -> None:
        with suppress(_HangUpError, OSError):
            stream: BufferedRWPair = accepted.makefile("rwb")
            self._say(stream, "greeting", self.script.greeting)
            while line := stream.readline():
                self._obey(stream, line.decode("latin-1").rstrip("\r\n"))
        _hang_up(accepted)

    def _obey(self, stream: BufferedRWPair, command: str) -> None:
        self.commands.append(command)
        verb = _verb(command)
        if verb == "EHLO":
            lines = ["mail.example", *self.script.ehlo]
            text = "".join(
                f"250{'-' if n < len(lines) else ' '}{line}\r\n" for n, line in enumerate(lines, 1)
            )
            stream.write(text.encode("ascii"))
            stream.flush()
        elif verb == "DATA":
            if self._say(stream, "data", self.script.data).startswith("354"):
                self._take(stream)
        else:
            self._say(stream, verb, getattr(self.script, verb.lower(), "250 2.0.0 fine"))

    def _take(self, stream: BufferedRWPair) -> None:
        lines: list[bytes] = []
        size = 0
        while (line := stream.readline()) != b".\r\n":
            lines.append(line)
            size += len(line)
            if not line or (self.script.body_limit is not None and size > self.script.body_limit):
                raise _HangUpError
        self.messages.append(b"".join(lines))
        self._say(stream, "final", self.script.final)

    def _say(self, stream: BufferedRWPair, what: str, reply: Reply) -> str:
        turn = self._turns.get(what, 0)
        self._turns[what] = turn + 1
        text = reply if isinstance(reply, str) else reply[min(turn, len(reply) - 1)]
        if text == DROP:
            raise _HangUpError
        time.sleep(self.script.pause)
        stream.write(f"{text}\r\n".encode("ascii"))
        stream.flush()
        if text.startswith(("421", "221")):
            raise _HangUpError
        return text


def _hang_up(one: socket.socket) -> None:
    with suppress(OSError):
        one.shutdown(socket.SHUT_RDWR)
    one.close()


def free_port() -> int:
    """Return a port that was free a moment ago."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@dataclass(frozen=True, kw_only=True)
class Authority:
    """An authority of one's own and the certificate it gave a server named *name*."""

    root: Path
    certificate: Path
    key: Path

    def context(self) -> ssl.SSLContext:
        """Return what a server needs to speak TLS."""
        context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
        context.load_cert_chain(self.certificate, self.key)
        return context


def an_authority(folder: Path, *, name: str = "DNS:localhost") -> Authority:
    """Make an authority, and a certificate by it, with the openssl command."""
    openssl = needs.command("openssl", debian="openssl")

    def run(*arguments: str) -> None:
        subprocess.run([openssl, *arguments], cwd=folder, check=True, capture_output=True)

    (folder / "leaf.txt").write_text(
        f"subjectAltName={name}\nbasicConstraints=CA:FALSE\nkeyUsage=digitalSignature\n"
        "extendedKeyUsage=serverAuth\nsubjectKeyIdentifier=hash\nauthorityKeyIdentifier=keyid\n",
        "ascii",
    )
    curve = ("-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes")
    root = ("-keyout", "root.key", "-out", "root.pem", "-subj", "/CN=Aldmere test authority", "-days", "2")
    run("req", "-x509", *curve, *root, "-addext", "keyUsage=critical,keyCertSign,cRLSign")
    run("req", *curve, "-keyout", "leaf.key", "-out", "leaf.csr", "-subj", "/CN=test server")
    by = ("-CA", "root.pem", "-CAkey", "root.key", "-CAcreateserial", "-extfile", "leaf.txt", "-days", "2")
    run("x509", "-req", "-in", "leaf.csr", "-out", "leaf.pem", *by)
    return Authority(root=folder / "root.pem", certificate=folder / "leaf.pem", key=folder / "leaf.key")


def _verb(command: str) -> str:
    return re.split("[ :]", command, maxsplit=1)[0].upper()
