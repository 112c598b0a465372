"""What the use cases need of the world: Protocols of at most five methods, kept by the adapters."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from audiences.workbooks import Sheet
from notices.cases.records import (
    ContactRow,
    Holding,
    OwnerRow,
    Posting,
    PostingState,
    PostingUnit,
    RevisionRow,
    Run,
    Saying,
    Secret,
    Signature,
    Source,
    SourceRow,
    TextRow,
    Told,
    Try,
    UnitRow,
    VariantRow,
)
from notices.work.evidence_port import Evidence, Incidents
from notices.work.record_ports import CaseTable, EventLog, Whole


class People(Protocol):
    """Owners and the ways to reach them."""

    def put_owners(self, rows: Iterable[OwnerRow]) -> None:
        """Write or replace owners."""

    def owners(self, owner_ids: Sequence[str] | None = None) -> dict[str, OwnerRow]:
        """Return these owners, or all."""

    def put_contacts(self, rows: Iterable[ContactRow]) -> None:
        """Write or replace contacts (key: owner, channel, value_key)."""

    def contacts(self, owner_ids: Sequence[str] | None = None) -> dict[str, list[ContactRow]]:
        """Return the contacts of these owners, or of all, ordered by channel and value_key."""

    def find(self, channel: str, value_key: str) -> list[ContactRow]:
        """Return the contacts with this value, of whatever owner."""


class Units(Protocol):
    """The physical items and who has a part in them."""

    def put(self, rows: Iterable[UnitRow]) -> None:
        """Write or replace units."""

    def units(self, unit_ids: Sequence[str] | None = None) -> dict[str, UnitRow]:
        """Return these units, or all."""

    def by_code(self, code_key: str) -> list[UnitRow]:
        """Return the units that bear this code."""

    def put_holdings(self, rows: Iterable[Holding]) -> None:
        """Write or replace holdings (key: unit, owner, role, from_seq)."""

    def holdings(
        self, *, unit_ids: Sequence[str] | None = None, owner_ids: Sequence[str] | None = None
    ) -> list[Holding]:
        """Return holdings, past and present, of these units or of these owners, or all."""


class Lists(Protocol):
    """Where every owner and unit came from."""

    def put_source(self, source: Source) -> None:
        """Write or replace what is known of a list."""

    def sources(self) -> list[Source]:
        """Return the lists, ordered by name."""

    def put_rows(self, rows: Iterable[SourceRow]) -> None:
        """Write or replace the rows of a list."""

    def rows(self, source_id: str) -> list[SourceRow]:
        """Return the rows of a list, in order."""


class Papers(Protocol):
    """Signed revisions and free texts."""

    def put_revision(self, row: RevisionRow) -> None:
        """Write or replace a revision by its number."""

    def revision(self, number: int | None = None) -> RevisionRow | None:
        """Return the revision with *number*, or the one with the highest."""

    def revisions(self) -> list[RevisionRow]:
        """Return all, ordered by number."""

    def put_text(self, row: TextRow) -> None:
        """Write a free text."""

    def texts(self, text_ids: Sequence[str]) -> dict[str, TextRow]:
        """Return these texts."""


class Variants(Protocol):
    """What was composed and signed."""

    def put(self, rows: Iterable[VariantRow], *, sayings: Iterable[Saying] = ()) -> None:
        """Write variants and the sayings they bear (``said`` "" bears none); one that stands stays as it is."""

    def get(self, fingerprints: Sequence[str]) -> dict[str, VariantRow]:
        """Return these variants."""

    def sign(self, rows: Iterable[Signature]) -> None:
        """Write signatures (key: fingerprint and signer)."""

    def signatures(self) -> list[Signature]:
        """Return all signatures, ordered by moment and fingerprint."""

    def unsign(self, fingerprints: Sequence[str]) -> None:
        """Take the signatures of these variants back."""


class Outbox(Protocol):
    """Postings and their tries; a claim is not a try."""

    def add(self, posting: Posting, units: Sequence[PostingUnit]) -> bool:
        """Write a posting with its units; False, and nothing written, where a key of *units* stands already."""

    def claim(
        self, worker: str, *, channel: str, now: datetime, lease_until: datetime, limit: int
    ) -> list[Posting]:
        """Lease the channel's waiting postings that are due, lowest rank first; never another's living lease."""

    def begin(self, attempt: Try) -> bool:
        """Record a try before it begins: the posting becomes *trying*; False where it is no longer waiting."""

    def settle(self, posting: Posting, attempt: Try | None, *, since: Posting | None = None) -> bool:
        """Write the posting's state, why, not_before and lease, and the try's end where there was one.

        With *since*, as the posting was read: False, and nothing written, where another state or worker stands now.
        """

    def postings(
        self, *, state: PostingState | None = None, posting_ids: Sequence[str] | None = None
    ) -> Iterator[Posting]:
        """Yield postings ordered by rank and posting_id."""


class Record(Protocol):
    """What the outbox remembers of what was told, by whom it was sent, and of each try."""

    def told(self, unit_ids: Sequence[str] | None = None) -> list[Told]:
        """Return what was put into the outbox for these units (or all), oldest first."""

    def units_of(self, posting_ids: Sequence[str]) -> dict[str, list[PostingUnit]]:
        """Return which units each posting is about."""

    def tries(self, posting_ids: Sequence[str] | None = None) -> list[Try]:
        """Return the tries of these postings, or all, ordered by posting and n."""

    def put_run(self, run: Run) -> None:
        """Write or replace a run."""

    def runs(self) -> list[Run]:
        """Return all runs, ordered by run_id."""


class Safe(Protocol):
    """The register's own keys and small facts."""

    def put_secret(self, secret: Secret) -> None:
        """Write or replace a secret."""

    def secrets(self, purpose: str) -> list[Secret]:
        """Return the secrets of a purpose, oldest first."""

    def note(self, name: str) -> str | None:
        """Return a small fact from ``meta``."""

    def put_note(self, name: str, value: str) -> None:
        """Write a small fact into ``meta``."""


class Transaction(Protocol):
    """Everything that changes together: thirteen parts, no methods of its own."""

    @property
    def events(self) -> EventLog:
        """Return the record of what happened."""

    @property
    def cases(self) -> CaseTable:
        """Return the projection."""

    @property
    def people(self) -> People:
        """Return owners and contacts."""

    @property
    def units(self) -> Units:
        """Return units and holdings."""

    @property
    def lists(self) -> Lists:
        """Return the imported lists."""

    @property
    def papers(self) -> Papers:
        """Return revisions and texts."""

    @property
    def variants(self) -> Variants:
        """Return what was composed and signed."""

    @property
    def outbox(self) -> Outbox:
        """Return the postings."""

    @property
    def record(self) -> Record:
        """Return what was told."""

    @property
    def safe(self) -> Safe:
        """Return keys and small facts."""

    @property
    def evidence(self) -> Evidence:
        """Return what is known of photographs and papers."""

    @property
    def incidents(self) -> Incidents:
        """Return the occasions on which a unit failed or someone was hurt."""

    @property
    def whole(self) -> Whole:
        """Return all tables as they lie."""


class Register(Protocol):
    """The one database of a campaign."""

    def change(self) -> AbstractContextManager[Transaction]:
        """Begin a transaction that may write; it commits at the end and rolls back on any exception."""

    def look(self) -> AbstractContextManager[Transaction]:
        """Begin a consistent view that writes nothing."""

    def close(self) -> None:
        """Let go of the database."""


class Folder(Protocol):
    """The campaign folder; names are relative, with forward slashes."""

    def read(self, name: str) -> bytes | None:
        """Return a file's bytes, None where there is none."""

    def write(self, name: str, data: bytes) -> None:
        """Write a file whole (aside, then renamed), making its folders."""

    def names(self, below: str) -> list[str]:
        """Return the files below a folder, sorted; empty where there is none."""


@dataclass(frozen=True, kw_only=True, slots=True)
class World:
    """What a use case is handed. *now* returns an aware moment; *draw(n)* a number from 0 to n - 1.

    *templates* maps a name to its text, *catalogues* ``TAG/notices`` or ``TAG/bureau`` to that of a PO file
    (``TAG/glossary`` to that of a table of terms);
    *expressions* maps ``rules`` and each language to its table of what no notice says, *laws* each law area to
    that of what it asks for;
    *sheet* reads the sheet of that name, or the first, of a workbook.
    """

    register: Register
    folder: Folder
    now: Callable[[], datetime]
    draw: Callable[[int], int]
    templates: Mapping[str, str]
    catalogues: Mapping[str, str]
    expressions: Mapping[str, str]
    laws: Mapping[str, str]
    sheet: Callable[[bytes, str], Sheet]
