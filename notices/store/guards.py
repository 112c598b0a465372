"""The triggers that keep the record append-only and without gaps, in each engine's own tongue."""

from sqlalchemy import Connection

# BEFORE INSERT also closes SQLite's back door: REPLACE deletes without asking a DELETE trigger.
_SQLITE = (
    """
    CREATE TRIGGER events_never_change BEFORE UPDATE ON events
    BEGIN SELECT RAISE(ABORT, 'events are never changed'); END
    """,
    """
    CREATE TRIGGER events_never_go BEFORE DELETE ON events
    BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END
    """,
    """
    CREATE TRIGGER events_follow BEFORE INSERT ON events
    BEGIN
        SELECT RAISE(IGNORE) WHERE NEW.once IS NOT NULL AND EXISTS (SELECT 1 FROM events WHERE once = NEW.once);
        SELECT RAISE(ABORT, 'events follow one another without a gap')
        WHERE NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM events WHERE stream = NEW.stream);
    END
    """,
)

_POSTGRESQL = (
    """
    CREATE FUNCTION events_never_change() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN RAISE EXCEPTION 'events are never changed or deleted'; END
    $$
    """,
    """
    CREATE TRIGGER events_never_change BEFORE UPDATE OR DELETE OR TRUNCATE ON events
    FOR EACH STATEMENT EXECUTE FUNCTION events_never_change()
    """,
    """
    CREATE FUNCTION events_follow() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN
        IF NEW.once IS NOT NULL AND EXISTS (SELECT 1 FROM events WHERE once = NEW.once) THEN RETURN NULL; END IF;
        IF NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM events WHERE stream = NEW.stream) THEN
            RAISE EXCEPTION 'events follow one another without a gap';
        END IF;
        RETURN NEW;
    END
    $$
    """,
    """
    CREATE TRIGGER events_follow BEFORE INSERT ON events
    FOR EACH ROW EXECUTE FUNCTION events_follow()
    """,
)


def put_up(connection: Connection) -> None:
    """Create the triggers on *events*, in the transaction that creates the table."""
    for statement in _POSTGRESQL if connection.dialect.name == "postgresql" else _SQLITE:
        connection.exec_driver_sql(statement)
