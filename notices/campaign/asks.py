"""One thing that is asked when a campaign begins, and what is done with an answer that is not yet known."""

from dataclasses import dataclass
from typing import Literal

Kind = Literal[
    "text", "lines", "incidents", "signs", "choice", "country", "countries", "day", "month", "number",
    "codes", "email", "phones", "next_word",
]  # fmt: skip

UNKNOWN = "?"
"""The answer that is allowed everywhere: not yet known."""

NEXT_WORD_DAYS = 5
LATEST_NEXT_WORD = 7


@dataclass(frozen=True, kw_only=True, slots=True)
class Ask:
    """One thing asked: *words* in the terminal, *short* for the option's help, *default* where Enter alone is enough.

    A *?* becomes the fact *unknown*, in words that the public may read, about the part *about* of the campaign file.
    Where *inside*, no owner reads that fact. It is asked only where the key of *only_if* was answered so.
    """

    key: str
    words: str
    short: str
    kind: Kind = "text"
    default: str | None = None
    choices: tuple[str, ...] = ()
    about: str
    unknown: str
    only_if: tuple[str, str] | None = None
    inside: bool = False

    @property
    def several(self) -> bool:
        """Tell whether the answer is a list, one a line."""
        return self.kind in {"lines", "incidents", "signs", "countries", "codes", "phones"}
