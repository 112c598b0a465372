"""Markets in which recall notices wait: for what the law asks first, or because the lead says so.

The events of the campaign's stream say who held or released a market, and why. What stands lies in one note, written
with them, so that no try has to read the stream. A gate holds back whatever promises a remedy, and no stop warning or
reminder of one.

A release stands until somebody says wait again, a later revision's notices included: a correction may be what saves
somebody, and no law is helped where it waits unseen. `older` names the releases that a newer revision has overtaken.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from audiences import canonical
from notices.campaign.agreements import Agreement, agreement_for
from notices.campaign.models import Campaign
from notices.cases import ids
from notices.cases.events import CAMPAIGN, Event, NewEvent, instant, moment
from notices.cases.owed import STOPS
from notices.cases.records import PostingState, TextRow
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import drafted, signed

NOTE = "markets"


class MarketError(ValueError):
    """A market cannot be held or released as asked; the text says why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gate:
    """How one market stands: *agreement* is what its law asks, *by*, *at* and *reason* the last word of a person."""

    market: str
    held: bool
    agreement: Agreement | None = None
    by: str = ""
    at: datetime | None = None
    reason: str = ""

    @property
    def why(self) -> str:
        """Return why the market waits, in one line; empty where it does not."""
        if not self.held:
            return ""
        said = f"{self.reason} ({self.by})" if self.by else ""
        law = f"{self.agreement.what} ({self.agreement.source})" if self.agreement else ""
        return "; ".join(filter(None, (said, law)))


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """A gate, and how many owners would be written to now were it open."""

    gate: Gate
    owners: int


def gates(tx: Transaction, campaign: Campaign) -> dict[str, Gate]:
    """Return how each market of *campaign* stands; where nobody has said anything, its law decides."""
    words = _words(tx)
    texts = tx.papers.texts([word["text"] for word in words.values()])
    found = {}
    for key, market in campaign.markets.items():
        agreement, word = agreement_for(market), words.get(key)
        if word is None:
            found[key] = Gate(market=key, held=agreement is not None, agreement=agreement)
            continue
        text = texts.get(word["text"])
        found[key] = Gate(
            market=key,
            held=word["kind"] == "market_held",
            agreement=agreement,
            by=word["by"],
            at=moment(word["at"]),
            reason=text.body if text else "",
        )
    return found


def closed(tx: Transaction, campaign: Campaign) -> dict[str, Gate]:
    """Return the gates of the markets that wait."""
    return {key: gate for key, gate in gates(tx, campaign).items() if gate.held}


def counted(pairs: Iterable[tuple[Gate, str]]) -> tuple[Held, ...]:
    """Count the owners behind each gate, given with the id of an owner whom it holds back."""
    found: dict[str, tuple[Gate, set[str]]] = {}
    for gate, owner_id in pairs:
        found.setdefault(gate.market, (gate, set()))[1].add(owner_id)
    return tuple(Held(gate=gate, owners=len(who)) for _, (gate, who) in sorted(found.items()))


def folded(events: Iterable[Event]) -> dict[str, Mapping[str, str]]:
    """Return the last word on each market, as the events of the campaign's stream have it."""
    return {
        str(event.payload.get("market", "")): {
            "kind": event.kind,
            "by": event.actor,
            "at": instant(event.at),
            "text": str(event.payload.get("text", "")),
        }
        for event in events
        if event.kind in {"market_held", "market_released"}
    }


def _words(tx: Transaction) -> dict[str, Mapping[str, str]]:
    noted = tx.safe.note(NOTE)
    return json.loads(noted) if noted else {}


def wait(world: World, market: str, *, by: str, reason: str) -> int:
    """Record that recall notices to *market* wait, and withdraw those not yet begun; return how many.

    MarketError where the campaign has no such market, or name or reason is empty.
    """
    with world.register.change() as tx:
        _say(tx, world, "market_held", _known(tx, world, market), by=by, reason=reason)
        return _withdraw(tx, market)


def release(world: World, market: str, *, by: str, reason: str) -> None:
    """Record that recall notices to *market* may go, and why; the next send hands them over.

    MarketError where the campaign has no such market, it does not wait, or name or reason is empty.
    """
    with world.register.change() as tx:
        gate = _known(tx, world, market)
        if not gate.held and gate.agreement is None:  # a newer agreement takes the place of the older one
            raise MarketError(f"{market} does not wait")
        _say(tx, world, "market_released", gate, by=by, reason=reason)


def standing(world: World) -> tuple[Gate, ...]:
    """Return how every market stands: of the signed revision, and of the draft before anything is signed."""
    with world.register.look() as tx:
        campaign = _campaign(tx, world)
        return tuple(gates(tx, campaign).values()) if campaign else ()


def _campaign(tx: Transaction, world: World) -> Campaign | None:
    held = signed(tx)
    return held.campaign if held is not None else drafted(world)


def _known(tx: Transaction, world: World, market: str) -> Gate:
    campaign = _campaign(tx, world)
    found = gates(tx, campaign) if campaign else {}
    if market not in found:
        names = ", ".join(found) or "none"
        raise MarketError(f"the campaign has no market {market}; it has: {names}")
    return found[market]


def _say(tx: Transaction, world: World, kind: str, gate: Gate, *, by: str, reason: str) -> None:
    if not by.strip() or not reason.strip():
        raise MarketError("a market is held and released with a name and a reason: --by NAME --reason TEXT")
    now = world.now()
    text_id = ids.long_id(world.draw)
    tx.papers.put_text(TextRow(text_id=text_id, owner_id=None, body=reason.strip()))
    event = NewEvent(
        stream=CAMPAIGN,
        kind=kind,
        at=now,
        actor=by.strip(),
        via="command",
        payload={"market": gate.market, "text": text_id},
    )
    record(tx, [event], now=now)
    tx.safe.put_note(NOTE, canonical.dump(folded(tx.events.stream(CAMPAIGN))))


def _withdraw(tx: Transaction, market: str) -> int:
    """Withdraw what waits to go to a market; what a run has in hand meanwhile is looked at again at its try."""
    waiting = list(tx.outbox.postings(state=PostingState.WAITING))
    rows = tx.variants.get(sorted({one.fingerprint for one in waiting}))
    of_market = {row.fingerprint for row in rows.values() if row.market == market and row.kind not in STOPS}
    mine = [one for one in waiting if one.fingerprint in of_market]
    return sum(
        tx.outbox.settle(
            replace(one, state=PostingState.WITHDRAWN, why=f"the market {market} waits"), None, since=one
        )
        for one in mine
    )


def older(tx: Transaction, campaign: Campaign, revision: int) -> tuple[Gate, ...]:
    """Return the released markets whose law asks for an agreement, and whose release is older than *revision*."""
    row = tx.papers.revision(revision)
    return tuple(
        gate
        for gate in gates(tx, campaign).values()
        if row and gate.agreement and gate.at and not gate.held and gate.at < row.adopted_at
    )


def standing_as_json(every: Iterable[Gate]) -> list[dict[str, object]]:
    """Return how each market stands in the shape that other programs read."""
    return [
        {
            "market": gate.market,
            "waits": gate.held,
            "law": gate.agreement.source if gate.agreement else "",
            "by": gate.by,
            "at": instant(gate.at) if gate.at else None,
            "reason": gate.reason,
        }
        for gate in every
    ]


def as_json(held: Iterable[Held]) -> list[dict[str, object]]:
    """Return what waits in the shape that other programs read."""
    return [{"market": one.gate.market, "owners": one.owners, "why": one.gate.why} for one in held]
