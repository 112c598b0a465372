"""The register on SQLite and PostgreSQL: the same tables, constraints and statements on both."""

from notices.store.opening import open_register
from notices.store.register import SqlRegister, SqlTransaction

__all__ = ["SqlRegister", "SqlTransaction", "open_register"]
