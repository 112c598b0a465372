"""Handing messages over: through a slow line, and as fast as one machine goes."""

from collections.abc import Iterator

from notices.cases.outgoing import Parcel
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from tests.benchmarks import mails
from tests.benchmarks import yardsticks_outside as yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, ready, slowness, wall
from tests.mail_servers import ScriptedServer

_ROUND_TRIP = 0.030  # seconds
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
