"""The moments in which a sender is killed, and the order that tells the mail server when to do it."""

import json
from dataclasses import asdict, dataclass
from enum import StrEnum
from random import Random


class Window(StrEnum):
    """A moment of one message's dialogue (RFC 5321), as its mail server sees it."""

    MAIL = "mail"
    AWAY = "away"
    RCPT = "rcpt"
    RSET = "rset"
    BODY = "body"
    DOT = "dot"
    REPLY = "reply"
    NEXT = "next"


TITLES = {
    Window.MAIL: "a  try recorded, nothing sent",
    Window.AWAY: "a' the same, connection refused",
    Window.RCPT: "b  after RCPT",
    Window.RSET: "b' refused for now, RSET heard",
    Window.BODY: "c  in the body",
    Window.DOT: "d  final dot, no reply sent",
    Window.REPLY: "e  reply sent, not recorded",
    Window.NEXT: "f  outcome recorded, next MAIL",
}

# Windows in which the server may have taken the message although the register does not say so (RFC 1047).
MAY_HAVE_ARRIVED = frozenset({Window.DOT, Window.REPLY})

# How long after its reply the server kills: at once, and within the moments in which the outcome is being written.
_REPLY_DELAYS = (0.0, 0.0, 0.0005, 0.0, 0.002, 0.0, 0.005)


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """One killing: in which window, at its which occurrence from now on, and how exactly.

    *delay* in seconds after the moment; *keep* whether a message whose final dot was heard counts as taken;
    *share* how much of the body is read first; *pipelining* whether the server offers it meanwhile (RFC 2920).
    """

    window: Window
    turn: int
    delay: float = 0.0
    keep: bool = True
    share: float = 0.5
    pipelining: bool = True

    def to_json(self) -> str:
        """Return the order as one line."""
        return json.dumps({"do": "order", "order": asdict(self)})


def orders(kills: int, *, seed: int, most: int = 8) -> list[Order]:
    """Return *kills* orders for each window, in an order of chance that *seed* repeats."""
    chance = Random(seed)  # noqa: S311 - a test repeats
    found = [
        Order(
            window=window,
            turn=chance.randint(1, most),
            delay=_delay(window, n, chance),
            keep=n % 2 == 0,
            share=chance.random(),
            pipelining=n % 3 != 1,
        )
        for window in Window
        for n in range(kills)
    ]
    chance.shuffle(found)
    return found


def _delay(window: Window, n: int, chance: Random) -> float:
    if window is Window.REPLY:
        return _REPLY_DELAYS[n % len(_REPLY_DELAYS)]
    return chance.choice((0.0, 0.002, 0.02)) if window is Window.AWAY else 0.0
