"""One word that staff heard, and the unit it is about at the moment of writing."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from notices.cases import ids
from notices.cases.case import Case
from notices.cases.events import NewEvent, owner_stream, unit_stream
from notices.cases.records import TextRow, UnitRow
from notices.work.ports import Transaction, World
from notices.work.revisions import Signed


class HearingError(ValueError):
    """What was said cannot be written down as it stands; the text says what is missing."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Word:
    """What somebody heard: *what* is one of `WORDS`, *value* its detail, *text* free words, *on* the day named.

    *lot* is that of the parts which were sent.
    """

    what: str
    by: str
    via: str
    value: str = ""
    text: str = ""
    on: date | None = None
    lot: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class At:
    """One unit at the moment of writing."""

    tx: Transaction
    world: World
    now: datetime
    unit: UnitRow
    case: Case
    held: Signed | None
    word: Word

    def event(self, kind: str, **payload: object) -> NewEvent:
        """Return an event of the unit."""
        return self._event(unit_stream(self.unit.unit_id), kind, payload)

    def of_owner(self, kind: str, **payload: object) -> NewEvent:
        """Return an event of the keeper."""
        return self._event(owner_stream(self.keeper()), kind, payload)

    def _event(self, stream: str, kind: str, payload: Mapping[str, object]) -> NewEvent:
        return NewEvent(
            stream=stream, kind=kind, at=self.now, actor=self.word.by, via=self.word.via, payload=payload
        )

    def keeper(self) -> str:
        """Return the present keeper."""
        if self.case.keeper_id is None:
            raise HearingError("nobody is known to keep this unit")
        return self.case.keeper_id

    def words(self) -> str:
        """Keep the free words and return their id; refuse where there are none."""
        if not self.word.text.strip():
            raise HearingError(f"{self.word.what} needs a reason: --text")
        text_id = ids.long_id(self.world.draw)
        self.tx.papers.put_text(TextRow(text_id=text_id, owner_id=self.case.keeper_id, body=self.word.text))
        return text_id

    def day(self) -> str:
        """Return the day that was named."""
        if self.word.on is None:
            raise HearingError(f"{self.word.what} needs a day: --day YYYY-MM-DD")
        return self.word.on.isoformat()
