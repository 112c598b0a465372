"""What the environment says, read once at the start of a command."""

from collections.abc import Mapping
from dataclasses import dataclass, field

LEAD = "lead"


@dataclass(frozen=True, kw_only=True, slots=True)
class Settings:
    """The few things that a campaign folder does not hold.

    *register* is the address of a PostgreSQL database (None: ``register.db`` in the folder), *mail_password* the
    mail server's, *by* the name that stands in the record where a command asks for none.
    """

    register: str | None = None
    mail_password: str | None = field(default=None, repr=False)
    by: str = LEAD


def from_environment(environment: Mapping[str, str]) -> Settings:
    """Read NOTICES_REGISTER, NOTICES_MAIL_PASSWORD and NOTICES_BY; an empty value counts as none."""
    return Settings(
        register=environment.get("NOTICES_REGISTER") or None,
        mail_password=environment.get("NOTICES_MAIL_PASSWORD") or None,
        by=environment.get("NOTICES_BY") or environment.get("LOGNAME") or LEAD,
    )
