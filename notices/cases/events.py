"""What can happen, and how one event is chained to the one before it.

Events hold ids and facts, never names, addresses or free text: those lie where they can be erased.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import lru_cache

from audiences import canonical

CAMPAIGN = "campaign"

# Every kind of event with the payload keys it may carry; a kind or key not listed here is a fault of ours.
KINDS: Mapping[str, frozenset[str]] = {
    # campaign
    "revision_adopted": frozenset({"number", "digest", "why"}),
    "list_imported": frozenset({"source", "new", "changed", "same", "refused"}),
    "variant_signed": frozenset({"fingerprint", "overruled", "unread"}),
    "finding_overruled": frozenset({"code", "file", "path", "bound", "text"}),
    "overruling_taken_back": frozenset({"bound", "text"}),
    "signature_withdrawn": frozenset({"fingerprint"}),
    "market_held": frozenset({"market", "text"}),
    "market_released": frozenset({"market", "text"}),
    "sale_stopped": frozenset({"place", "holds"}),
    "release_step_done": frozenset({"step", "text"}),
    "release_step_overruled": frozenset({"step", "text"}),
    "run_begun": frozenset({"run"}),
    "run_ended": frozenset({"run", "why"}),
    "bulletin_published": frozenset({"revision", "digest"}),
    "incident_learned": frozenset({"incident"}),
    "authority_told": frozenset({"authority", "report", "digest", "day"}),
    "sealed": frozenset({"streams", "events", "digest"}),
    # campaign, and each unit that got parts of the lot
    "lot_withdrawn": frozenset({"lot", "why"}),
    # owner
    "owner_listed": frozenset({"source", "row"}),
    "contact_added": frozenset({"channel", "value_key"}),
    "contact_failed": frozenset({"channel", "value_key", "reason"}),
    "language_chosen": frozenset({"language"}),
    "away": frozenset({"until"}),
    "reminders_declined": frozenset(),
    "joined": frozenset({"other"}),
    "parted": frozenset({"other", "text"}),
    "owner_erased": frozenset({"reason"}),
    # owner who is a shop or a lessor
    "shop_confirmed": frozenset({"stopped", "shelf", "sold", "names", "text"}),
    "shop_step": frozenset({"step", "outcome"}),
    "pack_made": frozenset({"units"}),
    "forwarded": frozenset({"units", "text"}),
    # unit
    "unit_listed": frozenset({"keeper", "source", "row"}),
    "help_asked": frozenset({"what", "text"}),
    "contact_given": frozenset({"channel", "signs"}),
    "answer_set_aside": frozenset({"of", "why", "text"}),
    "looked_at": frozenset({"by"}),
    "holder_added": frozenset({"owner", "role"}),
    "holder_ended": frozenset({"owner", "role"}),
    "code_given": frozenset({"code_key", "near", "photo", "signs"}),
    "verdict_given": frozenset({"verdict", "why", "near", "rule", "revision"}),
    "stop_stated": frozenset({"stopped", "signs"}),
    "use_stated": frozenset({"segment", "signs"}),
    "segment_lowered": frozenset({"from", "to", "text"}),
    "notice_handed_over": frozenset(
        {"posting", "owner", "kind", "channel", "occasion", "fingerprint", "said", "revision"}
    ),
    "notice_bounced": frozenset({"posting", "status"}),
    "letter_returned": frozenset({"posting", "status"}),
    "number_dead": frozenset({"posting", "status"}),
    "call_made": frozenset({"posting", "outcome"}),
    "remedy_chosen": frozenset({"remedy", "by", "signs"}),
    "remedy_promised": frozenset({"day"}),
    "parts_sent": frozenset({"kit", "lot"}),
    "visit_booked": frozenset({"day"}),
    "visit_moved": frozenset({"day"}),
    "visit_missed": frozenset({"day"}),
    "work_reported_done": frozenset({"by", "lot", "evidence", "photos"}),
    "fix_confirmed": frozenset({"how", "by", "evidence", "photos"}),
    "confirmation_taken_back": frozenset(),
    "passed_on": frozenset({"keeper"}),
    "step_skipped": frozenset({"step", "channel", "why"}),
    "case_closed": frozenset({"ending", "evidence"}),
    "case_reopened": frozenset({"why"}),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class NewEvent:
    """One thing that happened, not yet in the register.

    *stream* is ``campaign``, ``owner:ID`` or ``unit:ID``; *at* when it happened (aware); *actor* who said or
    did it (``owner``, ``program`` or a person's name); *via* by which way (page, mail, phone, letter, list,
    command); *once* the key under which it may stand only a single time.
    """

    stream: str
    kind: str
    at: datetime
    actor: str
    via: str
    payload: Mapping[str, object]
    once: str | None = None
    version: int = 1

    def __post_init__(self) -> None:
        """Refuse a kind or payload that the table above does not know, and a time without a zone."""
        unknown = set(self.payload) - KINDS[self.kind]
        assert not unknown, f"{self.kind} carries {sorted(unknown)}"  # noqa: S101 - a fault of ours, not of a user
        assert self.at.tzinfo is not None, "an event needs an aware time"  # noqa: S101 - the same


@dataclass(frozen=True, kw_only=True, slots=True)
class Event(NewEvent):
    """An event as the register holds it: its place in the stream, when it was recorded, its link in the chain."""

    seq: int
    recorded_at: datetime
    hash: str


@lru_cache(maxsize=256)  # what happens at one moment is written in many rows
def instant(moment: datetime) -> str:
    """Spell an aware moment as UTC text with six decimals and ``Z``, which sorts as it happened.

    Raise ValueError for a moment without a zone: it would be read in whatever zone the machine is set to.
    """
    if moment.tzinfo is None:
        raise ValueError("a moment needs its time zone")
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def moment(text: str) -> datetime:
    """Read what `instant` wrote."""
    return datetime.fromisoformat(text).astimezone(UTC)


def chained(event: NewEvent, *, seq: int, recorded_at: datetime, before: str) -> Event:
    """Place *event* in its stream after the event whose hash is *before* (empty for the first).

    The hash is SHA-256 over the hash before and the event's own fields, as canonical JSON.
    """
    fields = {
        "stream": event.stream,
        "seq": seq,
        "kind": event.kind,
        "version": event.version,
        "at": instant(event.at),
        "recorded_at": instant(recorded_at),
        "actor": event.actor,
        "via": event.via,
        "payload": event.payload,
        "once": event.once,
    }
    return Event(
        stream=event.stream,
        kind=event.kind,
        at=event.at.astimezone(UTC),
        actor=event.actor,
        via=event.via,
        payload=event.payload,
        once=event.once,
        version=event.version,
        seq=seq,
        recorded_at=recorded_at.astimezone(UTC),
        hash=canonical.digest([before, fields]),
    )


def unit_stream(unit_id: str) -> str:
    """Name the stream of a unit."""
    return f"unit:{unit_id}"


def owner_stream(owner_id: str) -> str:
    """Name the stream of an owner."""
    return f"owner:{owner_id}"
