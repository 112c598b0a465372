"""The mail server of the demo: loopback only, keeps what it takes, refuses dead mailboxes and one provider's owners."""

import asyncio
import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from datetime import datetime
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from threading import Thread
from types import TracebackType
from typing import Protocol, Self

from aiosmtpd.smtp import SMTP

from notices.demo.sockets import listening

_HREF = re.compile(r'href="(https?://[^"]+)"')
NO_SUCH_MAILBOX = "550 5.1.1 no such mailbox here"
AGAINST_POLICY = "550 5.7.1 refused by the policy of this provider"
_FINE = "250 2.0.0 taken"


@dataclass(frozen=True, kw_only=True, slots=True)
class Received:
    """One message as it came: from whom and to whom by its envelope, its bytes, the moment of the story."""

    sender: str
    recipient: str
    data: bytes
    at: datetime

    @property
    def message(self) -> EmailMessage:
        """Return the message as the standard library reads it."""
        return message_from_bytes(self.data, _class=EmailMessage, policy=default)

    @property
    def links(self) -> list[str]:
        """Return every address that the HTML part links to, in order, each once."""
        part = self.message.get_body(("html",))
        return list(dict.fromkeys(_HREF.findall(part.get_content()))) if part else []


class _Session(Protocol):
    """What the protocol keeps of one connection."""


class _Envelope(Protocol):
    """What the protocol keeps of one message."""

    mail_from: str
    rcpt_tos: list[str]
    content: bytes


class MailServer:
    """Takes mail on a port of its own while the ``with`` block lasts; *received* is in the order of arrival."""

    def __init__(self, *, dead: Collection[str], refusing: str, now: Callable[[], datetime]) -> None:
        """Refuse the addresses *dead* as unknown, and every address at the domain *refusing* by policy."""
        self.received: list[Received] = []
        self.refusals: list[tuple[str, str]] = []
        self._dead = frozenset(address.casefold() for address in dead)
        self._refusing = f"@{refusing}".casefold()
        self._now = now
        self._loop = asyncio.new_event_loop()
        self._socket = listening()
        self.port: int = self._socket.getsockname()[1]
        self._thread = Thread(target=self._run, name="mail-server", daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _fault: BaseException | None, _trace: TracebackType | None
    ) -> None:
        self._loop.call_soon_threadsafe(self._loop.stop)
        self._thread.join()

    def to(self, address: str) -> Iterator[Received]:
        """Yield what came for an address, the newest first."""
        return (one for one in reversed(self.received) if one.recipient.casefold() == address.casefold())

    async def handle_RCPT(  # noqa: N802 - the name by which the protocol calls it
        self, _server: SMTP, _session: _Session, envelope: _Envelope, address: str, _options: list[str]
    ) -> str:
        """Say whether mail for this address is taken."""
        wanted = address.casefold()
        if wanted in self._dead:
            self.refusals.append((address, NO_SUCH_MAILBOX))
            return NO_SUCH_MAILBOX
        if wanted.endswith(self._refusing):
            self.refusals.append((address, AGAINST_POLICY))
            return AGAINST_POLICY
        envelope.rcpt_tos.append(address)
        return "250 2.1.5 go on"

    async def handle_DATA(  # noqa: N802 - the name by which the protocol calls it
        self, _server: SMTP, _session: _Session, envelope: _Envelope
    ) -> str:
        """Keep one message a recipient."""
        for recipient in envelope.rcpt_tos:
            self.received.append(
                Received(
                    sender=envelope.mail_from, recipient=recipient, data=envelope.content, at=self._now()
                )
            )
        return _FINE

    def _run(self) -> None:
        asyncio.set_event_loop(self._loop)
        taking = self._loop.run_until_complete(
            self._loop.create_server(self._protocol, sock=self._socket, backlog=16)
        )
        self._loop.run_forever()
        taking.close()
        left = asyncio.all_tasks(self._loop)
        for task in left:
            task.cancel()
        self._loop.run_until_complete(asyncio.gather(*left, return_exceptions=True))
        self._loop.run_until_complete(taking.wait_closed())
        self._loop.close()

    def _protocol(self) -> SMTP:
        return SMTP(self, hostname="mail.aldmere.example", loop=self._loop, ident="demo")
