"""The lead's mail server as a way out: one recipient a transaction, and no guess about what became of it."""

import smtplib
import time
from contextlib import suppress

from notices.cases.outgoing import Outcome, Parcel, WayOutError
from notices.sending.connecting import Connection, connect
from notices.sending.dialogue import LOST, answers, begin_afresh, body, envelope, final_dot
from notices.sending.fitness import unfit, unfit_for
from notices.sending.mail_settings import MailSettings

_QUIT_SECONDS = 5.0  # its answer means nothing, so nobody waits for it
# Servers hang up on the idle after five minutes (RFC 5321 section 4.5.3.2.7); a slow pace must not cost a try.
_IDLE_SECONDS = 20.0
_CLOSING = 421


class SmtpLine:
    """One open connection; one thread's own."""

    def __init__(self, settings: MailSettings, password: str | None) -> None:
        """Connect at once, so that a wrong password is known before the first try."""
        self._settings = settings
        self._password = password
        self._server: Connection | None = connect(settings, password)
        self._used = time.monotonic()
        self._carried = 0

    def hand_over(self, parcel: Parcel) -> Outcome:
        """Hand one message over; a lost connection is in doubt only once the final dot may have been written."""
        nothing_doing = unfit(parcel)
        if nothing_doing is not None:
            return nothing_doing
        try:
            outcome, server = self._announce(parcel)
        except WayOutError as fault:
            return Outcome(result="later" if fault.temporary else "stop", reply=str(fault))
        if outcome is None:
            outcome = self._deliver(server, parcel)
        elif self._server is not None and not begin_afresh(server):
            self._drop()
        self._used = time.monotonic()
        return outcome

    def close(self) -> None:
        """Say QUIT and hang up; what the server answers means nothing for what was handed over."""
        server, self._server = self._server, None
        if server is None:
            return
        with suppress(OSError, smtplib.SMTPException):
            server.wait_at_most(_QUIT_SECONDS)
            server.quit()
        server.close()

    def _announce(self, parcel: Parcel) -> tuple[Outcome | None, Connection]:
        """Say the envelope, once more where the server has hung up on a connection that had served before."""
        while True:
            server = self._ready()
            outcome = unfit_for(server, parcel)
            if outcome is not None:
                return outcome, server
            try:
                outcome = envelope(server, parcel)
            except LOST as fault:
                outcome = _later(fault)
            if outcome is None or outcome.code not in {None, _CLOSING}:
                return outcome, server
            carried = self._carried
            self._drop()
            if not carried:
                return outcome, server

    def _deliver(self, server: Connection, parcel: Parcel) -> Outcome:
        try:
            body(server, parcel.data)
        except LOST as fault:
            self._drop()
            return _later(fault)
        outcome = final_dot(server)
        self._carried += 1
        if outcome.code in {None, _CLOSING}:
            self._drop()
        return outcome

    def _ready(self) -> Connection:
        """Return a connection that still answers, opened again where the server has hung up meanwhile."""
        idle = time.monotonic() - self._used
        if self._server is not None and idle > _IDLE_SECONDS and not answers(self._server):
            self._drop()
        if self._server is None:
            self._server = connect(self._settings, self._password)
            self._carried = 0
        return self._server

    def _drop(self) -> None:
        if self._server is not None:
            self._server.close()
            self._server = None


class SmtpWay:
    """A mail server and the right to use it."""

    def __init__(self, settings: MailSettings, password: str | None) -> None:
        """Keep the settings; nothing is opened yet."""
        self._settings = settings
        self._password = password

    def open(self) -> SmtpLine:
        """Open one connection; raise WayOutError with a sentence where that cannot be."""
        return SmtpLine(self._settings, self._password)

    def has(self, message_id: str) -> bool | None:  # noqa: ARG002 - the Protocol's argument
        """Return None: a mail server does not tell what it has taken."""
        return None


def _later(fault: Exception) -> Outcome:
    return Outcome(
        result="later", reply=f"the connection was lost before the message's end ({type(fault).__name__})"
    )
