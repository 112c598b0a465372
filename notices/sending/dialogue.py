"""One message over an open SMTP connection, in three acts: envelope, body, final dot (RFC 5321, RFC 2920)."""

import smtplib
from contextlib import suppress

from notices.cases.outgoing import Outcome, Parcel
from notices.sending.connecting import COMMAND_SECONDS, Connection
from notices.sending.replies import accepted, is_reply_code, refused, refused_sender

# RFC 5321 section 4.5.3.2.4 to .6: DATA initiation, each block of data, the reply to the final dot.
_DATA_SECONDS = 120.0
_BLOCK_SECONDS = 180.0
_FINAL_SECONDS = 600.0
_BLOCK = 1 << 16
_FINE = 2
_GO_ON = 3
_REFUSALS = frozenset({4, 5})
_SEND_IT = 354


class LostError(Exception):
    """What the server says makes no sense any more."""


# Everything by which a connection ends under one's hands.
LOST = (OSError, smtplib.SMTPException, LostError)


def envelope(server: Connection, parcel: Parcel) -> Outcome | None:
    """Say MAIL, RCPT and DATA, together where the server allows; return None where it awaits the message.

    Raises one of `LOST`: then nothing has been accepted.
    """
    commands = [
        f"MAIL FROM:<{parcel.sender}>{_parameters(server, parcel)}",
        f"RCPT TO:<{parcel.recipient}>",
        "DATA",
    ]
    if server.has_extn("pipelining"):
        server.wait_at_most(COMMAND_SECONDS)
        server.send("".join(f"{command}\r\n" for command in commands).encode("ascii"))
        replies = _as_many(server, len(commands))
    else:
        replies = _one_by_one(server, commands)
    return _judge(server, replies)


def body(server: Connection, data: bytes) -> None:
    """Write the message up to its last line end, dots at line starts doubled (RFC 5321 section 4.5.2).

    Raises one of `LOST`: then nothing has been accepted, for the final dot was not written.
    """
    stuffed = data.replace(b"\r\n.", b"\r\n..")
    if stuffed.startswith(b"."):
        stuffed = b"." + stuffed
    server.wait_at_most(_BLOCK_SECONDS)
    for start in range(0, len(stuffed), _BLOCK):
        server.send(stuffed[start : start + _BLOCK])


def final_dot(server: Connection) -> Outcome:
    """Write the final dot and judge the answer; a loss from here on is in doubt (RFC 1047)."""
    try:
        server.send(b".\r\n")
        server.wait_at_most(_FINAL_SECONDS)
        code, reply = _reply(server)
    except LOST as fault:
        return _in_doubt(type(fault).__name__)
    if code // 100 == _FINE:
        return accepted(code, reply)
    return refused(code, reply) if code // 100 in _REFUSALS else _in_doubt(str(code))


def begin_afresh(server: Connection) -> bool:
    """End a refused transaction; False where the connection is not fit for another."""
    try:
        server.wait_at_most(COMMAND_SECONDS)
        return server.docmd("RSET")[0] // 100 == _FINE
    except (OSError, smtplib.SMTPException):
        return False


def answers(server: Connection) -> bool:
    """Say whether an idle connection still stands."""
    try:
        server.wait_at_most(COMMAND_SECONDS)
        return server.noop()[0] // 100 == _FINE
    except (OSError, smtplib.SMTPException):
        return False


def _one_by_one(server: Connection, commands: list[str]) -> list[tuple[int, bytes]]:
    """Say each command once the one before has been accepted."""
    replies: list[tuple[int, bytes]] = []
    for command in commands:
        server.wait_at_most(_DATA_SECONDS if command == "DATA" else COMMAND_SECONDS)
        server.send(f"{command}\r\n".encode("ascii"))
        replies.append(_reply(server))
        if replies[-1][0] // 100 != _FINE:
            break
    return replies


def _as_many(server: Connection, count: int) -> list[tuple[int, bytes]]:
    """Read *count* replies; fewer where the server hangs up once it has refused, for then its reason holds."""
    replies: list[tuple[int, bytes]] = []
    try:
        while len(replies) < count:
            replies.append(_reply(server))
    except LOST:
        if all(code // 100 == _FINE for code, _ in replies):
            raise
    return replies


def _judge(server: Connection, replies: list[tuple[int, bytes]]) -> Outcome | None:
    """Return why the message cannot follow, None where it can.

    RFC 2920 section 3.1: a 354 may come although the recipient was refused; then a lone dot ends it.
    """
    for (code, reply), judge in zip(replies, (refused_sender, refused), strict=False):
        if code // 100 != _FINE:
            if replies[-1][0] == _SEND_IT:
                _lone_dot(server)
            return judge(code, reply)
    code, reply = replies[-1]
    if code == _SEND_IT:
        return None
    if code // 100 in {_FINE, _GO_ON}:
        raise LostError(f"DATA was answered with {code}")
    return refused(code, reply)


def _lone_dot(server: Connection) -> None:
    """End an empty message that has no recipient; whatever is answered, nobody gets it."""
    with suppress(*LOST):
        server.send(b".\r\n")
        server.wait_at_most(COMMAND_SECONDS)
        _reply(server)


def _reply(server: Connection) -> tuple[int, bytes]:
    code, reply = server.getreply()
    if not is_reply_code(code):
        raise LostError("the server's answer was no SMTP reply")
    return code, reply


def _parameters(server: Connection, parcel: Parcel) -> str:
    """Return the parameters of MAIL that the server knows: RFC 1870 and RFC 6152."""
    size = f" SIZE={len(parcel.data)}" if server.has_extn("size") else ""
    return size if parcel.data.isascii() else f"{size} BODY=8BITMIME"


def _in_doubt(why: str) -> Outcome:
    return Outcome(
        result="in_doubt", reply=f"the message was written whole, but the server's answer was lost ({why})"
    )
