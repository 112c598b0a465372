"""What was signed: revisions, variants, signatures; beside them free texts, keys and small facts."""

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection

from notices.cases.events import moment
from notices.cases.records import RevisionRow, Saying, Secret, Signature, TextRow, VariantRow
from notices.store import tables
from notices.store.rows import among, ask, fetch, keep, questions, read, read_by, row_of, rows_of, run, write

# The content of the last revision asked for, by number and digest: it is large, and asked
# for at every turn of a run.
_CONTENT: dict[tuple[int, str], str] = {}


class Papers:
    """Signed revisions and free texts."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_revision(self, row: RevisionRow) -> None:
        """Write or replace a revision by its number."""
        _CONTENT.pop((row.number, row.digest), None)
        write(self._connection, tables.revisions, [row_of(row)])

    def revision(self, number: int | None = None) -> RevisionRow | None:
        """Return the revision with *number*, or the one with the highest."""
        which, values = ("", ()) if number is None else ("WHERE number = ? ", (number,))
        tail = f"{which}ORDER BY number DESC LIMIT 1"
        about = "SELECT number, adopted_at, adopted_by, digest FROM revisions"
        for held, adopted_at, adopted_by, digest in ask(self._connection, f"{about} {tail}", values):
            return RevisionRow(
                number=held,
                adopted_at=moment(adopted_at),
                adopted_by=adopted_by,
                content=self._content(held, digest),
                digest=digest,
            )
        return None

    def _content(self, number: int, digest: str) -> str:
        held = _CONTENT.get((number, digest))
        if held is None:
            asked = "SELECT content FROM revisions WHERE number = ?"
            held = str(ask(self._connection, asked, (number,))[0][0])
            _CONTENT.clear()
            _CONTENT[number, digest] = held
        return held

    def revisions(self) -> list[RevisionRow]:
        """Return all, ordered by number."""
        return read_by(self._connection, tables.revisions, RevisionRow, "number", None)

    def put_text(self, row: TextRow) -> None:
        """Write a free text."""
        write(self._connection, tables.texts, [row_of(row)])

    def texts(self, text_ids: Sequence[str]) -> dict[str, TextRow]:
        """Return these texts."""
        return {
            row.text_id: row for row in read_by(self._connection, tables.texts, TextRow, "text_id", text_ids)
        }


class Variants:
    """What was composed and signed."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put(self, rows: Iterable[VariantRow], *, sayings: Iterable[Saying] = ()) -> None:
        """Write variants and the sayings they bear; one that stands stays as it is."""
        keep(self._connection, tables.sayings, rows_of(sayings))
        keep(self._connection, tables.variants, ({**row_of(row), "said": row.said or None} for row in rows))

    def get(self, fingerprints: Sequence[str]) -> dict[str, VariantRow]:
        """Return these variants."""
        found = {}
        for asked in questions(fingerprints):
            tail = f"WHERE {among('fingerprint', asked)} ORDER BY fingerprint"
            for row in fetch(self._connection, tables.variants, tail, asked):
                found[row["fingerprint"]] = VariantRow(**{**row, "said": row["said"] or ""})
        return found

    def sign(self, rows: Iterable[Signature]) -> None:
        """Write signatures (key: fingerprint and signer)."""
        write(self._connection, tables.signatures, rows_of(rows))

    def signatures(self) -> list[Signature]:
        """Return all signatures, ordered by moment, fingerprint and signer."""
        return read(self._connection, tables.signatures, Signature, "ORDER BY at, fingerprint, signed_by")

    def unsign(self, fingerprints: Sequence[str]) -> None:
        """Take the signatures of these variants back."""
        for asked in questions(fingerprints):
            run(self._connection, f"DELETE FROM signatures WHERE {among('fingerprint', asked)}", asked)  # noqa: S608 - names of ours


class Safe:
    """The register's own keys and small facts."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_secret(self, secret: Secret) -> None:
        """Write or replace a secret."""
        write(self._connection, tables.secrets, [row_of(secret)])

    def secrets(self, purpose: str) -> list[Secret]:
        """Return the secrets of a purpose, oldest first."""
        tail = "WHERE purpose = ? ORDER BY made_at, secret_id"
        return read(self._connection, tables.secrets, Secret, tail, (purpose,))

    def note(self, name: str) -> str | None:
        """Return a small fact from ``meta``."""
        found = ask(self._connection, "SELECT value FROM meta WHERE name = ?", (name,))
        return str(found[0][0]) if found else None

    def put_note(self, name: str, value: str) -> None:
        """Write a small fact into ``meta``."""
        write(self._connection, tables.meta, [{"name": name, "value": value}])
