"""The tables of the register, the same on both engines, and the triggers that keep its record append-only."""

from sqlalchemy import CheckConstraint, Column, ForeignKey, Index, Integer, MetaData, Table, text
from sqlalchemy.schema import SchemaItem

from notices.store.portable import Day, Instant, Standing, Words

# Raise this with every change below; a register with a higher number is refused, never guessed at.
SCHEMA = 1

metadata = MetaData()


def _words(name: str, *, key: bool = False, null: bool = False, unique: bool = False) -> Column[str]:
    return Column(name, Words, primary_key=key, nullable=null, unique=unique or None)


def _whole(name: str, *, key: bool = False, null: bool = False) -> Column[int]:
    # autoincrement off: no number is ever given by the database
    return Column(name, Integer, primary_key=key, nullable=null, autoincrement=False)


def _at(name: str, *, null: bool = False) -> Column[object]:
    return Column(name, Instant, nullable=null)


def _day(name: str) -> Column[object]:
    return Column(name, Day, nullable=True)


def _of(name: str, target: str, *, key: bool = False, null: bool = False) -> Column[str]:
    # checked at commit, so that a use case may write in whatever order reads best
    reference = ForeignKey(target, deferrable=True, initially="DEFERRED")
    return Column(name, Words, reference, primary_key=key, nullable=null)


def _table(name: str, *parts: SchemaItem) -> Table:
    return Table(name, metadata, *parts, sqlite_strict=True)


meta = _table("meta", _words("name", key=True), _words("value"))

secrets = _table(
    "secrets",
    _words("secret_id", key=True),
    _words("purpose"),
    _words("secret"),
    _at("made_at"),
    _at("retired_at", null=True),
)

revisions = _table(
    "revisions",
    _whole("number", key=True),
    _at("adopted_at"),
    _words("adopted_by"),
    _words("content"),
    _words("digest"),
)

events = _table(
    "events",
    _words("stream", key=True),
    _whole("seq", key=True),
    _words("kind"),
    _whole("version"),
    _at("at"),
    _at("recorded_at"),
    _words("actor"),
    _words("via"),
    _words("payload"),
    _words("once", null=True, unique=True),
    _words("hash"),
    CheckConstraint("seq >= 1", name="events_count_from_one"),
)

texts = _table(
    "texts",
    _words("text_id", key=True),
    _words("owner_id", null=True),
    _words("body"),
    Index("texts_of_owner", "owner_id"),
)

evidence = _table(
    "evidence",
    _words("digest", key=True),
    _words("media_type"),
    _whole("bytes"),
    _words("unit_id", null=True),
    _words("owner_id", null=True),
    Index("evidence_of_unit", "unit_id"),
)

sources = _table(
    "sources",
    _words("source_id", key=True),
    _words("file"),
    _words("digest"),
    _words("mapping"),
    _at("imported_at"),
)

source_rows = _table(
    "source_rows",
    _of("source_id", "sources.source_id", key=True),
    _whole("row_no", key=True),
    _words("unit_id", null=True),
    _words("owner_id", null=True),
    _words("raw"),
    Index("source_rows_of_owner", "owner_id"),
)

owners = _table(
    "owners",
    _words("owner_id", key=True),
    _words("kind"),
    _words("name"),
    _words("language"),
    _words("basis"),
    _words("country", null=True),
    _words("region", null=True),
    _words("time_zone", null=True),
    _day("away_until"),
    _at("erased_at", null=True),
)

contacts = _table(
    "contacts",
    _of("owner_id", "owners.owner_id", key=True),
    _words("channel", key=True),
    _words("value_key", key=True),
    _words("value"),
    _words("fault", null=True),
    Index("contacts_by_value", "channel", "value_key"),
)

units = _table(
    "units",
    _words("unit_id", key=True),
    _words("unit_key", unique=True),
    _words("code", null=True),
    _words("code_key", null=True),
    _day("sold_on"),
    _words("sold_in", null=True),
    Index("units_by_code", "code_key"),
)

_KEEPS = text("role = 'keeper' AND to_seq IS NULL")

holdings = _table(
    "holdings",
    _of("unit_id", "units.unit_id", key=True),
    _of("owner_id", "owners.owner_id", key=True),
    _words("role", key=True),
    _whole("from_seq", key=True),
    _whole("to_seq", null=True),
    Index("holdings_of_owner", "owner_id"),
    Index("one_keeper_at_a_time", "unit_id", unique=True, sqlite_where=_KEEPS, postgresql_where=_KEEPS),
)

# Derived: what is not a column of its own lies in *memory*, as canonical JSON.
cases = _table(
    "cases",
    _words("unit_id", key=True),
    _whole("version"),
    _words("keeper_id", null=True),
    _words("whereabouts"),
    _words("stopped"),
    _words("verdict", null=True),
    _words("why"),
    _words("judged_by"),
    _words("segment"),
    _words("stage"),
    _words("ending", null=True),
    _whole("live"),
    _day("due_on"),
    _words("due_step", null=True),
    _words("due_channel", null=True),
    _words("due_why", null=True),
    _words("memory"),
)

sayings = _table(
    "sayings",
    _words("said", key=True),
    _words("verdict"),
    _words("segment"),
    _whole("level"),
    _words("body"),
)

variants = _table(
    "variants",
    _words("fingerprint", key=True),
    _words("kind"),
    _words("channel"),
    _words("verdict"),
    _words("segment"),
    _words("market"),
    _words("language"),
    _of("said", "sayings.said", null=True),
    _words("content"),
    _at("made_at"),
)

signatures = _table(
    "signatures",
    _of("fingerprint", "variants.fingerprint", key=True),
    _words("signed_by", key=True),
    _at("at"),
    _words("overruled"),
)

_WAITS = text("state = 'waiting'")

postings = _table(
    "postings",
    _words("posting_id", key=True),
    _of("owner_id", "owners.owner_id"),
    _words("channel"),
    _words("address"),
    _of("fingerprint", "variants.fingerprint"),
    _words("fill"),
    _words("message_id", unique=True),
    _whole("rank"),
    Column("state", Standing, nullable=False),
    _words("why"),
    _at("not_before", null=True),
    _whole("tries"),
    _words("worker", null=True),
    _at("lease_until", null=True),
    Index("postings_of_owner", "owner_id"),
    Index("postings_waiting", "channel", "rank", "posting_id", sqlite_where=_WAITS, postgresql_where=_WAITS),
)

# Its key is what makes nothing go out twice.
posting_units = _table(
    "posting_units",
    _of("unit_id", "units.unit_id", key=True),
    _of("owner_id", "owners.owner_id", key=True),
    _words("occasion", key=True),
    _words("channel", key=True),
    _words("address_key", key=True),
    _of("posting_id", "postings.posting_id"),
    Index("posting_units_of_posting", "posting_id"),
)

tries = _table(
    "tries",
    _of("posting_id", "postings.posting_id", key=True),
    _whole("n", key=True),
    _at("began_at"),
    _at("ended_at", null=True),
    _words("outcome", null=True),
    _whole("code", null=True),
    _words("enhanced", null=True),
    _words("reply"),
)

runs = _table(
    "runs",
    _words("run_id", key=True),
    _words("worker"),
    _words("begun_by"),
    _words("pace"),
    _words("wanted"),
    _words("state"),
    _at("beat_at"),
    _words("why"),
)

messages_in = _table(
    "messages_in",
    _words("digest", key=True),
    _at("arrived_at"),
    _words("sort"),
    _of("posting_id", "postings.posting_id", null=True),
    _words("matched_by"),
    _words("raw"),
    _words("filed_by", null=True),
)

incidents = _table(
    "incidents",
    _words("incident_id", key=True),
    _at("learned_at"),
    _day("happened_on"),
    _words("country", null=True),
    _words("harm"),
    _words("age_band", null=True),
    _words("part_kept"),
    _of("unit_id", "units.unit_id", null=True),
    _words("text_id", null=True),
)

drafts = _table(
    "drafts",
    _words("digest", key=True),
    _at("saved_at"),
    _words("saved_by"),
    _words("content"),
)

looks = _table("looks", _at("at"), _words("who"), _words("owner_id"), _words("why"))
