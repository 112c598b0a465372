"""What the use cases need of the register for photographs and papers, and for incidents."""

from collections.abc import Iterable, Sequence
from typing import Protocol

from notices.cases.records import EvidenceRow, IncidentRow


class Evidence(Protocol):
    """What is known of the files in ``evidence/``; each stands once, by its SHA-256."""

    def put(self, rows: Iterable[EvidenceRow]) -> None:
        """Write rows; one that stands stays as it is."""

    def get(self, digests: Sequence[str]) -> dict[str, EvidenceRow]:
        """Return these rows."""

    def of_units(self, unit_ids: Sequence[str] | None = None) -> list[EvidenceRow]:
        """Return the rows of these units, or all, ordered by unit_id and digest."""


class Incidents(Protocol):
    """The occasions on which a unit failed or someone was hurt."""

    def put(self, rows: Iterable[IncidentRow]) -> None:
        """Write or replace incidents."""

    def all(self) -> list[IncidentRow]:
        """Return all, ordered by when they were learned of."""
