"""Somebody who may write to the database and means no good: past the triggers, straight into the tables."""

from sqlalchemy import text

from notices.store import SqlRegister
from notices.work.ports import Register

_OPEN = {
    "sqlite": (
        "DROP TRIGGER IF EXISTS events_never_change",
        "DROP TRIGGER IF EXISTS events_never_go",
        "DROP TRIGGER IF EXISTS events_follow",
    ),
    "postgresql": ("ALTER TABLE events DISABLE TRIGGER USER",),
}


def tamper(register: Register, statement: str, **values: str | int) -> None:
    """Run *statement* with its ``:names`` on the database of a register, the guards taken down first."""
    assert isinstance(register, SqlRegister)
    with register.engine.begin() as connection:
        for opening in _OPEN[connection.dialect.name]:
            connection.execute(text(opening))
        connection.execute(text(statement), values)
