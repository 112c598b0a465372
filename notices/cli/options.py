"""The options that many commands share, worded once."""

from datetime import date
from enum import StrEnum
from pathlib import Path
from shlex import quote
from typing import Annotated

import typer


class Format(StrEnum):
    """How a command prints what it found."""

    TEXT = "text"
    JSON = "json"


def day(text: str | date) -> date:
    """Read a day as ``YYYY-MM-DD`` (ISO 8601); refuse anything else as a fault of usage."""
    if isinstance(text, date):
        return text
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise typer.BadParameter("a day is written YYYY-MM-DD, as in 2026-03-12") from None


Campaign = Annotated[
    Path,
    typer.Option("--campaign", metavar="DIR", help="The campaign folder; without it, the folder you are in."),
]
Print = Annotated[
    Format, typer.Option("--format", metavar="text|json", help="Print text for people or JSON for programs.")
]
Yes = Annotated[bool, typer.Option("--yes", help="Answer yes to what the command would ask.")]
On = Annotated[
    date | None,
    typer.Option(
        "--on", metavar="DAY", parser=day, help="Show what was known at the end of this day, YYYY-MM-DD."
    ),
]
By = Annotated[str, typer.Option("--by", metavar="NAME", help="Your name, as it shall stand in the record.")]

HERE = Path()


def command(words: str, campaign: Path) -> str:
    """Return a command to type next, as it is typed for the folder that this one was typed for."""
    return f"notices {words}" if campaign == HERE else f"notices {words} --campaign {quote(str(campaign))}"
