"""What must hold of the register and of what the server took: after every kill, and at the end."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

from notices.cases.events import chained
from notices.cases.folding import fold
from notices.cases.records import Posting, PostingState
from notices.work.ports import Register, Transaction
from notices.work.recording import with_due
from notices.work.revisions import signed
from tests.faults.peer import GONE_EVERY
from tests.faults.processes import Taken
from tests.faults.windows import MAY_HAVE_ARRIVED, Window

_UNIT = "unit:"
_TOLD = "notice_handed_over"
MOST_COPIES = 2  # the first, and the one that goes once more


@dataclass(kw_only=True)
class Tally:
    """What the kills in one window left."""

    kills: int = 0
    hits: int = 0
    most_doubts: int = 0
    doubts: int = 0
    twice: int = 0


@dataclass(kw_only=True)
class Ledger:
    """All that is known of one outbox while its senders are killed; *broken* says which laws do not hold."""

    connections: int
    tallies: dict[Window, Tally] = field(default_factory=lambda: {window: Tally() for window in Window})
    broken: list[str] = field(default_factory=list)
    doubted: dict[str, list[Window]] = field(default_factory=dict)
    told: set[str] = field(default_factory=set)
    open: set[str] = field(default_factory=set)
    dead: set[int] = field(default_factory=set)
    aims: list[tuple[Window, str, int]] = field(default_factory=list)

    def hold(self, law: str, breaches: Iterable[object], *, when: str) -> None:
        """Note a law that is broken, with the first of what breaks it."""
        found = [str(one) for one in breaches]
        if found:
            self.broken.append(f"{when}: {law}: {', '.join(found[:3])} ({len(found)})")


@dataclass(frozen=True, kw_only=True, slots=True)
class Killing:
    """One kill as it happened: the window, the dead process, whose message it was about, and who lives on."""

    window: Window
    pid: int
    address: str
    before: str
    living: frozenset[int]


def after_a_kill(
    ledger: Ledger, killing: Killing, register: Register, now: datetime, sync: Callable[[], Counter[str]]
) -> None:
    """Hold the register against the laws; *sync* says what was taken, before and after looking at it."""
    before = sync()
    when = f"kill {sum(one.kills for one in ledger.tallies.values()) + 1} ({killing.window})"
    with register.look() as tx:
        postings = list(tx.outbox.postings())
        told = {one.posting_id for one in postings if one.state is PostingState.HANDED_OVER}
        _events_follow(ledger, tx, told - ledger.told, postings, when)
        tried = _tries_of(tx, postings, killing)
    after = sync()
    ledger.told |= told
    left = _left_in_doubt(ledger, killing, postings, now, when)
    _copies(ledger, postings, before, after, when)
    _count(ledger, killing, left, postings, tried)


def _left_in_doubt(
    ledger: Ledger, killing: Killing, postings: list[Posting], now: datetime, when: str
) -> set[str]:
    """Return what this kill put in doubt.

    A try belongs to a process that lives, or to one that was killed and whose tries nobody has looked at since.
    """
    ledger.dead.add(killing.pid)
    trying = [one for one in postings if one.state is PostingState.TRYING]
    dead = {one.posting_id for one in trying if _pid(one) in ledger.dead}
    stray = [one.posting_id for one in trying if _pid(one) not in ledger.dead | killing.living]
    old = [one.posting_id for one in trying if one.lease_until is None or one.lease_until <= now]
    now_open = {one.posting_id for one in postings if one.state is PostingState.IN_DOUBT} | dead
    left = now_open - ledger.open
    ledger.open = now_open
    ledger.hold("a try under no living lease", [*stray, *old], when=when)
    ledger.hold("a state that a crash may not leave", _odd(postings), when=when)
    if len(left) > ledger.connections:
        ledger.hold("more in doubt than connections", left, when=when)
    for posting_id in left:
        ledger.doubted.setdefault(posting_id, []).append(killing.window)
    return left


def _odd(postings: Iterable[Posting]) -> list[str]:
    return [f"{one.posting_id} {one.state}" for one in postings if one.state is PostingState.BOUNCED]


def _pid(posting: Posting) -> int:
    parts = (posting.worker or "").split(":")
    return int(parts[1]) if len(parts) == 3 else 0


def _events_follow(
    ledger: Ledger, tx: Transaction, new: set[str], postings: list[Posting], when: str
) -> None:
    """Whoever counts as told has the event, and who is in doubt has none."""
    others = [one.posting_id for one in postings if one.state in {PostingState.TRYING, PostingState.IN_DOUBT}]
    units = tx.record.units_of([*new, *others])
    has = {
        one: all(tx.events.has(f"handed_over:{one}:{unit.unit_id}") for unit in units[one]) for one in units
    }
    ledger.hold("handed over without its event", (one for one in new if not has[one]), when=when)
    ledger.hold("in doubt, yet told in the history", (one for one in others if has[one]), when=when)


def _copies(
    ledger: Ledger, postings: list[Posting], before: Counter[str], after: Counter[str], when: str
) -> None:
    known = {one.address for one in postings if one.posting_id in ledger.doubted}
    told = {one.address for one in postings if one.state is PostingState.HANDED_OVER}
    trying = {one.address for one in postings if one.state is PostingState.TRYING}
    ledger.hold("counts as told, but no copy was taken", (one for one in told if not after[one]), when=when)
    ledger.hold(
        "taken, but the register does not know",
        (one for one in before if one not in told | known | trying),
        when=when,
    )
    twice = [one for one, count in before.items() if count > 1]
    ledger.hold("twice without a doubt", (one for one in twice if one not in known), when=when)
    ledger.hold("three times", (one for one in twice if before[one] > MOST_COPIES), when=when)
    if before.total() > len(told) + len(known | trying):
        ledger.hold("more copies than told and in doubt", [before.total()], when=when)


def _tries_of(tx: Transaction, postings: list[Posting], killing: Killing) -> int:
    wanted = killing.before if killing.window is Window.NEXT else killing.address
    ids = [one.posting_id for one in postings if one.address == wanted]
    return len(tx.record.tries(ids)) if ids else 0


def _count(ledger: Ledger, killing: Killing, left: set[str], postings: list[Posting], tried: int) -> None:
    tally = ledger.tallies[killing.window]
    tally.kills += 1
    tally.doubts += len(left)
    tally.most_doubts = max(tally.most_doubts, len(left))
    wanted = killing.before if killing.window is Window.NEXT else killing.address
    found = next((one for one in postings if one.address == wanted), None)
    if found is None:  # MAIL FROM names nobody yet: any try of the dead process shows the moment
        tally.hits += bool(left)
    else:
        ledger.aims.append((killing.window, found.posting_id, tried))


def at_the_end(ledger: Ledger, register: Register, taken: Taken, *, count: int) -> dict[PostingState, int]:
    """Hold the finished outbox against the laws; return how many postings stand where."""
    when = "at the end"
    with register.look() as tx:
        postings = list(tx.outbox.postings())
        tries = tx.record.tries()
        units = tx.record.units_of([one.posting_id for one in postings])
        told = Counter(
            event.payload["posting"]
            for stream in tx.events.streams(_UNIT)
            for event in stream
            if event.kind == _TOLD
        )
        ledger.hold("the chain of events is broken", _broken_chains(tx), when=when)
        ledger.hold("a case is not what its events make it", _misfolded(tx), when=when)
    doubts = Counter(one.posting_id for one in tries if one.outcome == "in_doubt")
    _hits(ledger, {(one.posting_id, one.n): one.outcome for one in tries})
    states = Counter(one.state for one in postings)
    over = {one.posting_id for one in postings if one.state is PostingState.HANDED_OVER}
    ledger.hold("postings are gone", range(len(postings), count), when=when)
    ledger.hold("a try without an end", (one.posting_id for one in tries if one.ended_at is None), when=when)
    ledger.hold(
        "left unsettled", (f"{one.posting_id} {one.state}" for one in _unsettled(postings, doubts)), when=when
    )
    ledger.hold("in doubt, and nobody was killed", set(doubts) - set(ledger.doubted), when=when)
    expected = {one: len(units[one]) for one in over}
    ledger.hold("events and outbox disagree", set(told.items()) ^ set(expected.items()), when=when)
    _whole_copies(ledger, postings, doubts, taken)
    return states


def _hits(ledger: Ledger, outcomes: Mapping[tuple[str, int], str | None]) -> None:
    """Count the kills that hit: the try ended in doubt; for the last window, that it did not."""
    for window, posting_id, n in ledger.aims:
        recorded = outcomes.get((posting_id, n)) == "handed_over"
        doubt = outcomes.get((posting_id, n)) == "in_doubt"
        ledger.tallies[window].hits += recorded if window is Window.NEXT else doubt
        if window is Window.NEXT and not recorded:
            ledger.hold("recorded before the next MAIL FROM", [f"not so: {posting_id}"], when="at the end")


def _unsettled(postings: Iterable[Posting], doubts: Counter[str]) -> list[Posting]:
    done = {PostingState.HANDED_OVER, PostingState.REFUSED}
    return [
        one
        for one in postings
        if one.state not in done
        and not (one.state is PostingState.IN_DOUBT and doubts[one.posting_id] >= MOST_COPIES)
    ]


def should_have_none(address: str) -> bool:
    """Say whether the server knows no such mailbox."""
    return int("".join(sign for sign in address.partition("@")[0] if sign.isdigit())) % GONE_EVERY == 0


def missing(postings: Iterable[Posting], taken: Taken) -> list[str]:
    """Return who has no message and should have one; what was in doubt twice is a person's to look at."""
    return [
        one.address
        for one in postings
        if not taken.copies[one.address]
        and not should_have_none(one.address)
        and one.state is not PostingState.IN_DOUBT
    ]


def _whole_copies(ledger: Ledger, postings: list[Posting], doubts: Counter[str], taken: Taken) -> None:
    when = "at the end"
    by_address = {one.address: one for one in postings}
    ledger.hold("without a message", missing(postings, taken), when=when)
    ledger.hold("a message to nobody we know", set(taken.copies) - set(by_address), when=when)
    for address, count in taken.copies.items():
        one = by_address[address]
        if count > 1 + min(doubts[one.posting_id], 1):
            ledger.hold("more copies than doubts allow", [address], when=when)
        if taken.ids[address] != {one.message_id} or len(taken.digests[address]) != 1:
            ledger.hold("a second copy differs from the first", [address], when=when)
        if count > 1:
            _blame(ledger, ledger.doubted[one.posting_id])


def _blame(ledger: Ledger, windows: list[Window]) -> None:
    """Count a second copy where it came from; only some windows and the other connections may cause one."""
    ledger.tallies[windows[0]].twice += 1
    if ledger.connections == 1 and not set(windows) & MAY_HAVE_ARRIVED:
        ledger.hold("twice although nothing had been taken", windows, when="at the end")


def _broken_chains(tx: Transaction) -> list[str]:
    found = []
    for stream in tx.events.streams(""):
        before = ""
        for seq, event in enumerate(stream, 1):
            again = chained(event, seq=seq, recorded_at=event.recorded_at, before=before)
            if again.hash != event.hash:
                found.append(f"{event.stream} {seq}")
            before = event.hash
    return found


def _misfolded(tx: Transaction) -> list[str]:
    held = signed(tx)
    assert held is not None
    rows = {row.case.unit_id: row for row in tx.cases.all()}
    anew = [fold(events[0].stream.removeprefix(_UNIT), events) for events in tx.events.streams(_UNIT)]
    return [row.case.unit_id for row in with_due(tx, anew, held.campaign) if rows[row.case.unit_id] != row]
