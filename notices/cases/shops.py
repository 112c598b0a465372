"""A shop's standing, folded from its events, and what is due for it: silent shops have a ladder of their own."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from notices.cases.events import Event
from notices.cases.working_days import after

HANDED_OVER, FORWARD = "handed_over", "forward"
NAMES = frozenset({HANDED_OVER, FORWARD})
"""What a shop does with its customers' names: it gives them to us, or forwards what we give it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ShopRung:
    """One rung of the ladder to shops that say nothing, in working days after the day on which they were listed."""

    step: str
    after_days: int
    channel: str
    source: str = "common practice, no source"


LADDER: tuple[ShopRung, ...] = (
    ShopRung(step="shop-call", after_days=0, channel="phone"),
    ShopRung(step="shop-call-again", after_days=1, channel="phone"),
    ShopRung(step="shop-visit", after_days=2, channel="person"),
    ShopRung(step="shop-letter", after_days=3, channel="letter"),
)
"""A shop that still sells adds owners to warn each hour: it is telephoned on day one, before any mail is waited for."""

_COUNT_WITHIN = (
    3  # working days after a forward pack, until which its signed count is waited for (common practice)
)


@dataclass(frozen=True, kw_only=True, slots=True)
class ShopCase:
    """What one shop, or one lessor, has said and been given.

    *stopped* None: no word. *shelf* and *sold* are its own counts, *names* one of `NAMES` or "". *packed* counts the
    addresses made for it to forward, *forwarded* how many it says it forwarded (None: it has not said).
    """

    listed_on: date | None = None
    stopped: bool | None = None
    shelf: int | None = None
    sold: int | None = None
    names: str = ""
    packed: int = 0
    packed_on: date | None = None
    forwarded: int | None = None
    steps: tuple[str, ...] = ()
    said_on: date | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ShopDue:
    """The next step for a shop: its name, by which channel, since which day, and why."""

    step: str
    channel: str
    on: date
    why: str


def shop_case(events: Iterable[Event]) -> ShopCase:
    """Return what the events of an owner's stream make of a shop, in their order."""
    case = ShopCase()
    for event in events:
        case = _step(case, event)
    return case


def _step(case: ShopCase, event: Event) -> ShopCase:
    said, on = event.payload, event.at.date()
    if event.kind == "owner_listed":
        return replace(case, listed_on=case.listed_on or on)
    if event.kind == "shop_confirmed":
        return replace(
            case,
            stopped=said["stopped"] is True,
            shelf=_count(said["shelf"]),
            sold=_count(said["sold"]),
            names=str(said["names"]),
            said_on=on,
        )
    if event.kind == "shop_step":
        return replace(case, steps=(*case.steps, str(said["step"])))
    if event.kind == "pack_made":
        packed = case.packed + (_count(said["units"]) or 0)
        return replace(case, packed=packed, packed_on=on, forwarded=None)
    if event.kind == "forwarded":
        return replace(case, forwarded=_count(said["units"]))
    return case


def _count(value: object) -> int | None:
    return value if isinstance(value, int) else None


def shop_due(case: ShopCase, country: str | None) -> ShopDue | None:
    """Return the next step for a shop, in working days of *country*; None where nothing is due.

    In order: a call to a shop that says it still sells; the ladder to one without a word; the addresses that it asked
    for; the count of what it forwarded.
    """
    if case.stopped is False and case.said_on:
        return ShopDue(step="shop-call", channel="phone", on=case.said_on, why="has not stopped selling")
    if case.stopped is None and case.listed_on:
        rung = next((one for one in LADDER if one.step not in case.steps), None)
        if rung is not None:
            on = after(case.listed_on, rung.after_days, country)
            return ShopDue(
                step=rung.step, channel=rung.channel, on=on, why="no word that it has stopped selling"
            )
    if case.names == FORWARD and not case.packed and case.said_on:
        why = "forwards to its customers, and has no addresses for it yet"
        return ShopDue(step="forward-pack", channel="email", on=case.said_on, why=why)
    if case.packed and case.forwarded is None and case.packed_on:
        why = f"has {case.packed} addresses to forward, and has not said how many it did"
        return ShopDue(
            step="count", channel="phone", on=after(case.packed_on, _COUNT_WITHIN, country), why=why
        )
    return None
