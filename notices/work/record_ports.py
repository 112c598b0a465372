"""What the use cases need of the record of what happened, of the cases that follow from it, and of all as it lies."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from typing import Protocol

from notices.cases.case import Case
from notices.cases.chain import Link
from notices.cases.due import Agenda, CaseRow
from notices.cases.events import Event, NewEvent


class EventLog(Protocol):
    """The append-only record."""

    def append(self, events: Sequence[NewEvent], *, recorded_at: datetime) -> list[Event]:
        """Chain and store *events*; one whose ``once`` already stands is passed over and not returned.

        ``recorded_at`` never goes back within a stream: the store keeps the later of it and the last one's.
        """

    def stream(self, name: str, *, until: datetime | None = None) -> list[Event]:
        """Return a stream in order, as known at *until* (by ``recorded_at``)."""

    def streams(self, prefix: str, *, until: datetime | None = None) -> Iterator[list[Event]]:
        """Yield each stream whose name begins with *prefix*, ordered by name, each in order."""

    def has(self, once: str) -> bool:
        """Say whether an event with this key stands."""

    def links(self) -> Iterator[Link]:
        """Yield every event as it lies there, whatever it holds, ordered by stream and place."""


class CaseTable(Protocol):
    """The projection: one row a unit, derived from the events."""

    def get(self, unit_ids: Sequence[str]) -> dict[str, CaseRow]:
        """Return the rows of these units."""

    def put(self, rows: Iterable[CaseRow]) -> None:
        """Write or replace rows."""

    def all(self) -> Iterator[CaseRow]:
        """Yield every row, ordered by unit_id."""

    def alike(self) -> list[tuple[Case, int]]:
        """Return one case for all that count alike, bare but for what they are counted by, and how many they are."""

    def agenda(self, until: date) -> Agenda:
        """Return what is due by the day *until*, a call where a person must call first, then by day and unit."""


class Whole(Protocol):
    """All tables as plain rows, the same from every engine: what a backup holds."""

    def tables(self) -> tuple[str, ...]:
        """Return the names of the tables, in the order in which they are read again."""

    def lines(self, name: str) -> Iterator[str]:
        """Yield the rows of a table as canonical JSON, ordered by its key."""

    def is_empty(self) -> bool:
        """Say whether nothing has been kept yet, beside what a register knows of itself."""

    def fill(self, tables: Mapping[str, Iterable[str]]) -> None:
        """Put rows into an empty register; raise RegisterError where it is not empty, or a row is none of its form."""
