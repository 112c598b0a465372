"""What a reader typed, made fit to be read: short, clean, and never more than a form of ours can hold."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from audiences.cleaning import lines, narrow, one_line
from notices.work.photos import Photo, Unfit

LONGEST_LINE = 200
LONGEST_TEXT = 2000
_FEWEST_DIGITS = 5
_NONCE = re.compile(r"[0-9A-HJKMNP-TV-Z]{26}")


@dataclass(frozen=True, kw_only=True, slots=True)
class Form:
    """The fields of one form as they were sent, and its photographs made anew; nothing in it is to be believed."""

    fields: Mapping[str, str] = field(default_factory=dict)
    photos: tuple[Photo | Unfit, ...] = ()

    @property
    def kept(self) -> tuple[Photo, ...]:
        """Return the photographs that can be kept."""
        return tuple(each for each in self.photos if isinstance(each, Photo))

    @property
    def unfit(self) -> Unfit | None:
        """Return why a file that was sent cannot be kept, None where all of them can."""
        return next((each for each in self.photos if isinstance(each, Unfit)), None)

    def line(self, name: str) -> str:
        """Return a field on one line, without controls, cut to a length that fits."""
        return one_line(self.fields.get(name, "")[: 4 * LONGEST_LINE])[:LONGEST_LINE]

    def text(self, name: str) -> str:
        """Return a field of several lines, each cleaned, cut to a length that fits."""
        return "\n".join(lines(self.fields.get(name, "")[: 2 * LONGEST_TEXT]))[:LONGEST_TEXT]

    def token(self, name: str) -> str:
        """Return a hidden field as it came; what it says is checked where it is opened."""
        return self.fields.get(name, "")

    def nonce(self) -> str | None:
        """Return the form's nonce, None where it has none of ours."""
        sent = self.fields.get("nonce", "")
        return sent if _NONCE.fullmatch(sent) else None


def has_digits(number: str) -> bool:
    """Say whether somebody could try to dial this; a call that is asked for waits for no better number."""
    return sum(sign.isdigit() for sign in narrow(number)) >= _FEWEST_DIGITS
