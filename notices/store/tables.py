"""The tables of the register, the same on both engines, and the triggers that keep its record append-only."""

from sqlalchemy import CheckConstraint, Column, Index, text

from notices.store.columns import at, day, of, table, whole, words
from notices.store.portable import Standing

# Raise this with every change below; a register with a higher number is refused, never guessed at.
SCHEMA = 1

meta = table("meta", words("name", key=True), words("value"))

secrets = table(
    "secrets",
    words("secret_id", key=True),
    words("purpose"),
    words("secret"),
    at("made_at"),
    at("retired_at", null=True),
)

revisions = table(
    "revisions",
    whole("number", key=True),
    at("adopted_at"),
    words("adopted_by"),
    words("content"),
    words("digest"),
    numbered=True,
)

events = table(
    "events",
    words("stream", key=True),
    whole("seq", key=True),
    words("kind"),
    whole("version"),
    at("at"),
    at("recorded_at"),
    words("actor"),
    words("via"),
    words("payload"),
    words("once", null=True, unique=True),
    words("hash"),
    CheckConstraint("seq >= 1", name="events_count_from_one"),
)

texts = table(
    "texts",
    words("text_id", key=True),
    words("owner_id", null=True),
    words("body"),
    Index("texts_of_owner", "owner_id"),
)

evidence = table(
    "evidence",
    words("digest", key=True),
    words("media_type"),
    whole("bytes"),
    words("unit_id", null=True),
    words("owner_id", null=True),
    Index("evidence_of_unit", "unit_id"),
)

sources = table(
    "sources",
    words("source_id", key=True),
    words("file"),
    words("digest"),
    words("mapping"),
    at("imported_at"),
)

source_rows = table(
    "source_rows",
    of("source_id", "sources.source_id", key=True),
    whole("row_no", key=True),
    words("unit_id", null=True),
    words("owner_id", null=True),
    words("raw"),
    Index("source_rows_of_owner", "owner_id"),
)

owners = table(
    "owners",
    words("owner_id", key=True),
    words("kind"),
    words("name"),
    words("language"),
    words("basis"),
    words("country", null=True),
    words("region", null=True),
    words("time_zone", null=True),
    day("away_until"),
    at("erased_at", null=True),
)

contacts = table(
    "contacts",
    of("owner_id", "owners.owner_id", key=True),
    words("channel", key=True),
    words("value_key", key=True),
    words("value"),
    words("fault", null=True),
    Index("contacts_by_value", "channel", "value_key"),
)

units = table(
    "units",
    words("unit_id", key=True),
    words("unit_key", unique=True),
    words("code", null=True),
    words("code_key", null=True),
    day("sold_on"),
    words("sold_in", null=True),
    Index("units_by_code", "code_key"),
)

_KEEPS = text("role = 'keeper' AND to_seq IS NULL")

holdings = table(
    "holdings",
    of("unit_id", "units.unit_id", key=True),
    of("owner_id", "owners.owner_id", key=True),
    words("role", key=True),
    whole("from_seq", key=True),
    whole("to_seq", null=True),
    Index("holdings_of_owner", "owner_id"),
    Index("one_keeper_at_a_time", "unit_id", unique=True, sqlite_where=_KEEPS, postgresql_where=_KEEPS),
)

# Derived: what is not a column of its own lies in *memory*, as canonical JSON.
cases = table(
    "cases",
    words("unit_id", key=True),
    whole("version"),
    words("keeper_id", null=True),
    words("whereabouts"),
    words("stopped"),
    words("verdict", null=True),
    words("why"),
    words("judged_by"),
    words("segment"),
    words("stage"),
    words("ending", null=True),
    whole("live"),
    day("due_on"),
    words("due_step", null=True),
    words("due_channel", null=True),
    words("due_why", null=True),
    words("memory"),
)

sayings = table(
    "sayings",
    words("said", key=True),
    words("verdict"),
    words("segment"),
    whole("level"),
    words("body"),
)

variants = table(
    "variants",
    words("fingerprint", key=True),
    words("kind"),
    words("channel"),
    words("verdict"),
    words("segment"),
    words("market"),
    words("language"),
    of("said", "sayings.said", null=True),
    words("content"),
    at("made_at"),
)

signatures = table(
    "signatures",
    of("fingerprint", "variants.fingerprint", key=True),
    words("signed_by", key=True),
    at("at"),
    words("overruled"),
)

_WAITS = text("state = 'waiting'")

postings = table(
    "postings",
    words("posting_id", key=True),
    of("owner_id", "owners.owner_id"),
    words("channel"),
    words("address"),
    of("fingerprint", "variants.fingerprint"),
    words("fill"),
    words("message_id", unique=True),
    whole("rank"),
    Column("state", Standing, nullable=False),
    words("why"),
    at("not_before", null=True),
    whole("tries"),
    words("worker", null=True),
    at("lease_until", null=True),
    Index("postings_of_owner", "owner_id"),
    Index("postings_waiting", "channel", "rank", "posting_id", sqlite_where=_WAITS, postgresql_where=_WAITS),
)

# Its key is what makes nothing go out twice.
posting_units = table(
    "posting_units",
    of("unit_id", "units.unit_id", key=True),
    of("owner_id", "owners.owner_id", key=True),
    words("occasion", key=True),
    words("channel", key=True),
    words("address_key", key=True),
    of("posting_id", "postings.posting_id"),
    Index("posting_units_of_posting", "posting_id"),
)

tries = table(
    "tries",
    of("posting_id", "postings.posting_id", key=True),
    whole("n", key=True),
    at("began_at"),
    at("ended_at", null=True),
    words("outcome", null=True),
    whole("code", null=True),
    words("enhanced", null=True),
    words("reply"),
)

runs = table(
    "runs",
    words("run_id", key=True),
    words("worker"),
    words("begun_by"),
    words("pace"),
    words("wanted"),
    words("state"),
    at("beat_at"),
    words("why"),
)

messages_in = table(
    "messages_in",
    words("digest", key=True),
    at("arrived_at"),
    words("sort"),
    of("posting_id", "postings.posting_id", null=True),
    words("matched_by"),
    words("raw"),
    words("filed_by", null=True),
)

incidents = table(
    "incidents",
    words("incident_id", key=True),
    at("learned_at"),
    day("happened_on"),
    words("country", null=True),
    words("harm"),
    words("age_band", null=True),
    words("part_kept"),
    of("unit_id", "units.unit_id", null=True),
    words("text_id", null=True),
)

drafts = table(
    "drafts",
    words("digest", key=True),
    at("saved_at"),
    words("saved_by"),
    words("content"),
)

looks = table("looks", at("at"), words("who"), words("owner_id"), words("why"))
