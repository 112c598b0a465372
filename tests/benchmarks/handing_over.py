"""Handing messages over: through a slow line, and as fast as one machine goes."""

import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from tempfile import TemporaryDirectory

from notices.cases.outgoing import Parcel
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from tests import needs
from tests.benchmarks import mails, sinks
from tests.benchmarks import yardsticks_outside as yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, ready, slowness, wall
from tests.mail_servers import ScriptedServer

_ROUND_TRIP = 0.030  # seconds
_CONNECTIONS = 8
_SENDER = "safety@aldmere.example"


def _parcels(count: int) -> list[Parcel]:
    """Write real messages, each to an owner of its own."""
    return [
        Parcel(message_id=mail.message_id, sender=_SENDER, recipient=mail.to, data=mails.written(mail))
        for mail in mails.mails(count, mails.composed())
    ]


def through_a_slow_line(*, quick: bool) -> Iterator[Line]:
    """Compare with the standard library's sendmail over one connection through a relay of 30 ms there and back."""
    size = 2 if quick else 40
    parcels = _parcels(size)
    plain = [(one.sender, one.recipient, one.data) for one in parcels]
    with ScriptedServer() as server, yardsticks.Relay(server.port, _ROUND_TRIP / 2).open() as port:

        def ours() -> None:
            line = SmtpWay(MailSettings(host="127.0.0.1", port=port, security="none"), None).open()
            outcomes = [line.hand_over(parcel) for parcel in parcels]
            line.close()
            assert all(one.result == "handed_over" for one in outcomes), outcomes

        def bare() -> None:
            yardsticks.send_plainly(port, plain)

        came = []
        for way in (ours, bare):
            server.messages.clear()
            way()
            came.append(list(server.messages))
        assert came[0] == came[1]
        assert len(came[0]) == size
        ratio = 1 / slowness(ready(ours), ready(bare), clock=wall, rounds=1 if quick else ROUNDS)
    yield Line(name="slow-line", ratio=ratio, bound=Bound(limit=1.7, at_least=True), size=size, clock="wall")


def as_fast_as_it_goes(*, quick: bool) -> Iterator[Line]:
    """Compare a whole run with smtp-source, which reads nothing and writes nothing down, to the same sink."""
    size = 20 if quick else 3_000
    command = needs.command("smtp-source", debian="postfix")
    with TemporaryDirectory() as place, ExitStack() as stack:
        root = Path(place)
        root.chmod(0o755)
        waiting = sinks.outbox(root / "campaign", size)
        numbers = iter(range(1_000))
        _compare_what_comes(root, waiting, command)

        def ours() -> Callable[[], object]:
            folder = sinks.copied(waiting, root / f"ours-{next(numbers)}")
            return lambda: sinks.send(folder, port, connections=_CONNECTIONS)

        def bare() -> Callable[[], object]:
            return lambda: yardsticks.source(
                command, port, connections=_CONNECTIONS, count=len(came), message=root / "one.eml"
            )

        port = stack.enter_context(sinks.sink())
        folder = sinks.copied(waiting, root / "counted")
        sent = sinks.send(folder, port, connections=_CONNECTIONS)
        came, tries, events, live = sinks.standing(folder)
        assert sent.finished, sent
        assert sent.handed_over == len(came) == tries
        assert events == live >= len(came)
        ratio = 1 / slowness(ours, bare, clock=wall, rounds=1 if quick else ROUNDS)
    bound = Bound(limit=0.5, at_least=True)
    yield Line(name="handing-over", ratio=ratio, bound=bound, size=len(came), clock="wall")


def _compare_what_comes(root: Path, waiting: Path, command: str) -> None:
    """Let the sink keep what each way hands over: every message of ours once, and one of them as smtp-source has it."""
    for name in ("kept-ours", "kept-bare"):
        (root / name).mkdir()
    few = sinks.copied(waiting, root / "few")
    with sinks.sink(into=root / "kept-ours") as port:
        sinks.send(few, port, connections=_CONNECTIONS)
    ours = sinks.messages(root / "kept-ours")
    ids = [re.search(rb"^Message-ID: (\S+)", one, re.MULTILINE) for one in ours]
    handed_over, *_ = sinks.standing(few)
    assert sorted(found[1].decode() for found in ids if found) == sorted(handed_over)
    (root / "one.eml").write_bytes(ours[0] + b"\n")
    with sinks.sink(into=root / "kept-bare") as port:
        yardsticks.source(command, port, connections=1, count=1, message=root / "one.eml")
    assert sinks.messages(root / "kept-bare") == ours[:1]
