"""Which values may enter the register, and how each is spelt, so that both engines keep and sort them alike."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from enum import StrEnum
from typing import Any, TypeVar

from sqlalchemy import Dialect, Text
from sqlalchemy.types import TypeDecorator, TypeEngine

from notices.cases.events import instant, moment
from notices.cases.records import PostingState

# PostgreSQL's INTEGER; SQLite would take more and hand it on to nobody.
_LARGEST = 2**31 - 1
_PLAIN = frozenset({int, list, type(None)})
# Between texts that are looked at as one: the end of one and the beginning of the next make no pair.
_NO_HALVES = " "

Bound = TypeVar("Bound")


class UnportableError(ValueError):
    """A value that one of the engines cannot keep: a fault of ours, for the edge should have refused it."""


class Spelt(TypeDecorator[Bound]):
    """Text that sorts by code point: BINARY on SQLite by nature, ``COLLATE "C"`` on PostgreSQL by order.

    Each kind says how a value is spelt for a driver and understood from it, with and without SQLAlchemy between.
    """

    impl = Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[str]:
        """Return the column type of *dialect*."""
        # not through type_descriptor, which makes VARCHAR of it
        return Text(collation="C") if dialect.name == "postgresql" else Text()

    def process_bind_param(self, value: Bound | None, dialect: Dialect) -> str | None:
        """Spell the value for the driver."""
        del dialect
        return self.spell(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Bound | None:
        """Read the value from the driver."""
        del dialect
        found: Bound | None = self.understand(value)
        return found

    @staticmethod
    def spell(value: Any) -> str | None:  # noqa: ANN401 - each kind has its own values
        """Return the value as text."""
        raise NotImplementedError

    @staticmethod
    def understand(value: str | None) -> Any:  # noqa: ANN401 - the same
        """Return what `spell` spelt."""
        return value


class Words(Spelt[str]):
    """Text; a member of a StrEnum is kept as its plain value."""

    cache_ok = True

    @staticmethod
    def spell(value: str | None) -> str | None:
        """Return the plain text."""
        return value.value if isinstance(value, StrEnum) else value


class Instant(Spelt[datetime]):
    """A moment as UTC text with six decimals and ``Z``."""

    cache_ok = True

    @staticmethod
    def spell(value: datetime | None) -> str | None:
        """Spell an aware moment."""
        return None if value is None else instant(value)

    @staticmethod
    def understand(value: str | None) -> datetime | None:
        """Read a moment."""
        return None if value is None else moment(value)


class Day(Spelt[date]):
    """A day as ``YYYY-MM-DD``."""

    cache_ok = True

    @staticmethod
    def spell(value: date | None) -> str | None:
        """Spell a day; a moment is not one, for which day it is depends on the zone."""
        if isinstance(value, datetime):
            raise UnportableError("a moment was given where the register keeps a day")
        return None if value is None else value.isoformat()

    @staticmethod
    def understand(value: str | None) -> date | None:
        """Read a day."""
        return None if value is None else date.fromisoformat(value)


class Standing(Spelt[PostingState]):
    """Where a posting stands, as its plain value."""

    cache_ok = True

    @staticmethod
    def spell(value: PostingState | None) -> str | None:
        """Spell the state."""
        return None if value is None else PostingState(value).value

    @staticmethod
    def understand(value: str | None) -> PostingState | None:
        """Read the state."""
        return None if value is None else PostingState(value)


def require(value: object) -> None:
    """Raise UnportableError unless *value*, and all inside it, is text without NUL and lone surrogates, or a
    whole number of 32 bits, or nothing; the message never quotes it.
    """  # noqa: D205 - one sentence
    if value is None or value is True or value is False:
        return
    if isinstance(value, str):
        _require_text(value)
    elif isinstance(value, int):
        if abs(value) > _LARGEST:
            raise UnportableError("a number for the register does not fit into 32 bits")
    elif isinstance(value, dict | Mapping):
        for key, item in value.items():
            require(key)
            require(item)
    elif isinstance(value, list | tuple):
        for item in value:
            require(item)
    else:
        raise UnportableError(f"the register keeps text and whole numbers, not {type(value).__name__}")


def _require_text(value: str) -> None:
    if "\0" in value:
        raise UnportableError("a text for the register holds a NUL sign")
    if value.isascii():
        return
    try:
        value.encode()
    except UnicodeEncodeError:
        raise UnportableError("a text for the register holds half of a surrogate pair") from None


def require_bound(parameters: Iterable[object] | Mapping[str, object] | None) -> None:
    """Hold what is about to reach a driver to the same law, and to the plain types that drivers agree on.

    The texts of many rows are looked at as one, for a list brings a million of them.
    """
    if parameters is None:
        return
    texts: list[str] = []
    _sort(parameters.values() if isinstance(parameters, Mapping) else parameters, texts)
    _require_text(_NO_HALVES.join(texts))


def _sort(values: Iterable[object], texts: list[str]) -> None:
    """Put the texts among *values*, and in the rows among them, into *texts*; look at all else."""
    for value in values:
        kind = type(value)
        if kind is str:
            texts.append(value)  # type: ignore[arg-type]  # its type was looked at on the line above
        elif value is None:
            pass
        elif kind is tuple:
            _sort(value, texts)  # type: ignore[arg-type]  # the same
        elif isinstance(value, Mapping):
            _sort(value.values(), texts)
        elif kind in _PLAIN:
            require(value)
        else:
            raise UnportableError(f"the register keeps text and whole numbers, not {kind.__name__}")
