"""What was signed: revisions, variants, signatures; beside them free texts, keys and small facts."""

from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, delete, select

from notices.cases.records import RevisionRow, Saying, Secret, Signature, TextRow, VariantRow
from notices.store import tables
from notices.store.rows import keep, questions, read, read_by, row_of, rows_of, write


class Papers:
    """Signed revisions and free texts."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_revision(self, row: RevisionRow) -> None:
        """Write or replace a revision by its number."""
        write(self._connection, tables.revisions, [row_of(row)])

    def revision(self, number: int | None = None) -> RevisionRow | None:
        """Return the revision with *number*, or the one with the highest."""
        column = tables.revisions.c.number
        query = select(tables.revisions).order_by(column.desc()).limit(1)
        found = read(
            self._connection, query if number is None else query.where(column == number), RevisionRow
        )
        return found[0] if found else None

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
        columns = tables.variants.c
        found = {}
        for asked in questions(fingerprints):
            query = (
                select(tables.variants).where(columns.fingerprint.in_(asked)).order_by(columns.fingerprint)
            )
            for row in self._connection.execute(query).mappings():
                found[str(row["fingerprint"])] = VariantRow(**{**row, "said": row["said"] or ""})
        return found

    def sign(self, rows: Iterable[Signature]) -> None:
        """Write signatures (key: fingerprint and signer)."""
        write(self._connection, tables.signatures, rows_of(rows))

    def signatures(self) -> list[Signature]:
        """Return all signatures, ordered by moment, fingerprint and signer."""
        columns = tables.signatures.c
        query = select(tables.signatures).order_by(columns.at, columns.fingerprint, columns.signed_by)
        return read(self._connection, query, Signature)

    def unsign(self, fingerprints: Sequence[str]) -> None:
        """Take the signatures of these variants back."""
        column = tables.signatures.c.fingerprint
        for asked in questions(fingerprints):
            self._connection.execute(delete(tables.signatures).where(column.in_(asked)))


class Safe:
    """The register's own keys and small facts."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def put_secret(self, secret: Secret) -> None:
        """Write or replace a secret."""
        write(self._connection, tables.secrets, [row_of(secret)])

    def secrets(self, purpose: str) -> list[Secret]:
        """Return the secrets of a purpose, oldest first."""
        columns = tables.secrets.c
        query = select(tables.secrets).where(columns.purpose == purpose)
        return read(self._connection, query.order_by(columns.made_at, columns.secret_id), Secret)

    def note(self, name: str) -> str | None:
        """Return a small fact from ``meta``."""
        return self._connection.scalar(select(tables.meta.c.value).where(tables.meta.c.name == name))

    def put_note(self, name: str, value: str) -> None:
        """Write a small fact into ``meta``."""
        write(self._connection, tables.meta, [{"name": name, "value": value}])
