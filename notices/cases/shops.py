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

# Working days after a forward pack, until which its count and then answers are waited for; and after the word that a
# shop has stopped, until which its counts are (common practice, no source).
_COUNT_WITHIN, _ANSWERS_WITHIN, _NAMES_WITHIN = 3, 10, 1


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


def stopped_by_word(case: ShopCase, shelf: int, on: date) -> ShopCase:
    """Return a silent shop's case with the word on its stopping that was taken among all places that sell."""
    return case if case.stopped is not None else replace(case, stopped=True, shelf=shelf, said_on=on)


def shop_due(case: ShopCase, country: str | None) -> ShopDue | None:
    """Return the next step for a shop, in working days of *country*; None where nothing is due.

    In order: a call to a shop that says it still sells; the ladder to one without a word; what it sold and how its
    customers are reached, where it has only said that it stopped; the addresses that it asked for; the count of what
    it forwarded.
    """
    if case.stopped is False and case.said_on:
        return ShopDue(step="shop-call", channel="phone", on=case.said_on, why="has not stopped selling")
    if case.stopped is None:
        return _silent(case, country)
    if case.names == "" and case.said_on:
        on = after(case.said_on, _NAMES_WITHIN, country)
        why = "has stopped, and has not said what it sold and how we reach its customers"
        return ShopDue(step="shop-names", channel="phone", on=on, why=why)
    if case.names == FORWARD and not case.packed and case.said_on:
        why = "forwards to its customers, and has no addresses for it yet"
        return ShopDue(step="forward-pack", channel="email", on=case.said_on, why=why)
    return _count_owed(case, country)


def _silent(case: ShopCase, country: str | None) -> ShopDue | None:
    rung = next((one for one in LADDER if one.step not in case.steps), None)
    if rung is None or case.listed_on is None:
        return None
    on = after(case.listed_on, rung.after_days, country)
    return ShopDue(step=rung.step, channel=rung.channel, on=on, why="no word that it has stopped selling")


def _count_owed(case: ShopCase, country: str | None) -> ShopDue | None:
    if not case.packed_on or case.forwarded is not None:
        return None
    why = f"has {case.packed} addresses to forward, and has not said how many it did"
    return ShopDue(step="count", channel="phone", on=after(case.packed_on, _COUNT_WITHIN, country), why=why)


def lessor_due(case: ShopCase, lets: int, country: str | None) -> ShopDue | None:
    """Return the next step for a lessor with *lets* units whose riders nobody knows; None where there are none.

    The addresses to forward at once; the count of what was forwarded; then a call, as long as riders are silent.
    """
    if not lets or case.listed_on is None:
        return None
    if case.packed_on is None:
        why = f"the riders of {lets} of its units are not known, and it has no addresses for them yet"
        return ShopDue(step="forward-pack", channel="email", on=case.listed_on, why=why)
    owed = _count_owed(case, country)
    if owed is not None:
        return owed
    on = after(case.packed_on, _ANSWERS_WITHIN, country)
    why = f"nobody has answered for {lets} of its units"
    return ShopDue(step="lessor-call", channel="phone", on=on, why=why)
