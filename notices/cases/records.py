"""The rows that the register keeps beside its events; days and instants as aware values, ids as text."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum


@dataclass(frozen=True, kw_only=True, slots=True)
class OwnerRow:
    """A person or firm.

    *basis* says how sure the language is: chosen by the owner or whoever forwarded, from a column of the list, the
    country's, a guess among the country's several, or the campaign's by default (chosen, forwarded, column, country,
    country-of-several, default). *time_zone* is None where the country has several.
    """

    owner_id: str
    kind: str
    name: str
    language: str
    basis: str
    country: str | None = None
    region: str | None = None
    time_zone: str | None = None
    away_until: date | None = None
    erased_at: datetime | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class ContactRow:
    """One way to an owner (email, phone, letter, link); *fault* says why it cannot be used."""

    owner_id: str
    channel: str
    value_key: str
    value: str
    fault: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class UnitRow:
    """One physical item; *unit_key* is what tells it apart in the lists, *code_key* its folded code."""

    unit_id: str
    unit_key: str
    code: str | None
    code_key: str | None
    sold_on: date | None
    sold_in: str | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Holding:
    """An owner's part in a unit, from one event of the unit's stream to another (None: still)."""

    unit_id: str
    owner_id: str
    role: str
    from_seq: int
    to_seq: int | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class SourceRow:
    """One row of an imported list, and the unit and owner it became."""

    source_id: str
    row_no: int
    unit_id: str | None
    owner_id: str | None
    raw: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Source:
    """One imported list: its name, the file it came in, the file's digest, how its columns were read."""

    source_id: str
    file: str
    digest: str
    mapping: str
    imported_at: datetime


@dataclass(frozen=True, kw_only=True, slots=True)
class TextRow:
    """Free text that somebody gave; kept apart from the events so that it can be erased."""

    text_id: str
    owner_id: str | None
    body: str


@dataclass(frozen=True, kw_only=True, slots=True)
class EvidenceRow:
    """One file in ``evidence/``: *digest* is the SHA-256 of its *bytes*, the unit and owner whose case it is about."""

    digest: str
    media_type: str
    bytes: int
    unit_id: str | None
    owner_id: str | None


@dataclass(frozen=True, kw_only=True, slots=True)
class IncidentRow:
    """One occasion on which a unit failed or someone was hurt; what happened lies in the text."""

    incident_id: str
    learned_at: datetime
    happened_on: date | None
    country: str | None
    harm: str
    age_band: str | None
    part_kept: str
    unit_id: str | None
    text_id: str | None


@dataclass(frozen=True, kw_only=True, slots=True)
class RevisionRow:
    """A signed revision, whole, as canonical text."""

    number: int
    adopted_at: datetime
    adopted_by: str
    content: str
    digest: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Saying:
    """What an owner is told to do and promised; *level* 0 may be used, 1 check, 2 do not use, 3 nor move."""

    said: str
    verdict: str
    segment: str
    level: int
    body: str


@dataclass(frozen=True, kw_only=True, slots=True)
class VariantRow:
    """What is composed, proved and signed as one; *content* is canonical JSON, kept for ever."""

    fingerprint: str
    kind: str
    channel: str
    verdict: str
    segment: str
    market: str
    language: str
    said: str
    content: str
    made_at: datetime


@dataclass(frozen=True, kw_only=True, slots=True)
class Signature:
    """One person's word that a variant may go out."""

    fingerprint: str
    signed_by: str
    at: datetime
    overruled: str = ""


class PostingState(StrEnum):
    """Where one notice to one owner stands in the outbox."""

    WAITING = "waiting"
    TRYING = "trying"
    HANDED_OVER = "handed_over"
    REFUSED = "refused"
    IN_DOUBT = "in_doubt"
    BOUNCED = "bounced"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, kw_only=True, slots=True)
class Posting:
    """One notice to one owner by one channel; *rank* 0 goes first; *fill* holds the owner's values."""

    posting_id: str
    owner_id: str
    channel: str
    address: str
    fingerprint: str
    fill: str
    message_id: str
    rank: int
    state: PostingState = PostingState.WAITING
    why: str = ""
    not_before: datetime | None = None
    tries: int = 0
    worker: str | None = None
    lease_until: datetime | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class PostingUnit:
    """Which unit a posting is about, for which occasion: its key is *nothing twice*."""

    unit_id: str
    owner_id: str
    occasion: str
    channel: str
    address_key: str
    posting_id: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Try:
    """One try to hand a posting over; recorded before it begins, ended when its outcome is known."""

    posting_id: str
    n: int
    began_at: datetime
    ended_at: datetime | None = None
    outcome: str | None = None
    code: int | None = None
    enhanced: str | None = None
    reply: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """What one owner was told of one unit for one occasion, and what became of the posting."""

    unit_id: str
    owner_id: str
    occasion: str
    posting_id: str
    state: PostingState
    kind: str
    verdict: str
    segment: str
    said: str
    level: int
    at: datetime | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """One run of the sender; *wanted* is go, pause or stop; *state* running or ended."""

    run_id: str
    worker: str
    begun_by: str
    pace: str
    wanted: str
    state: str
    beat_at: datetime
    why: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Secret:
    """A key of the register's own, for links, addresses or the field that proves the signs."""

    secret_id: str
    purpose: str
    secret: str
    made_at: datetime
    retired_at: datetime | None = None
