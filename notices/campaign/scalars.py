"""What a single value in a campaign may look like: texts for readers, words, codes of countries and days."""

import unicodedata
from collections.abc import Iterator
from typing import Annotated, ClassVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, StringConstraints
from pydantic_core import PydanticCustomError

# Unicode UAX #9: embeddings and overrides turn round what follows them; isolates do not, where they are closed.
_REORDERING = frozenset("\u202a\u202b\u202c\u202d\u202e")
_ISOLATES = frozenset("\u2066\u2067\u2068")
_END_OF_ISOLATE = "\u2069"
_LONGEST_TEXT = 4000


class Translatable:
    """Mark a text that owners read, so that translation walks it."""


def _readable(text: str) -> str:
    """Fold white space to single spaces; refuse blank text and signs that no reader can see."""
    folded = " ".join(text.split())
    if not folded:
        raise PydanticCustomError("text_blank", "no sign in a text")
    hidden = next(_hidden(folded), None)
    if hidden is not None:
        raise PydanticCustomError("text_hidden_sign", "sign out of sight", {"sign": f"U+{ord(hidden):04X}"})
    return folded


def _hidden(text: str) -> Iterator[str]:
    """Yield the signs that no reader sees, or that turn the text round: controls, overrides, open isolates."""
    opened: list[str] = []
    for sign in text:
        if unicodedata.category(sign) in {"Cc", "Cs"} or sign in _REORDERING:
            yield sign
        if sign in _ISOLATES:
            opened.append(sign)
        elif sign == _END_OF_ISOLATE:
            if not opened:
                yield sign
            else:
                opened.pop()
    yield from opened


def _field_name(attribute: str) -> str:
    """Return the key in the file: an attribute takes a final underscore where Python needs the bare word."""
    return attribute.removesuffix("_")


Word = Annotated[str, StringConstraints(max_length=_LONGEST_TEXT), AfterValidator(_readable)]
Text = Annotated[str, StringConstraints(max_length=_LONGEST_TEXT), AfterValidator(_readable), Translatable()]
Key = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$")]
Country = Annotated[str, StringConstraints(pattern=r"^[A-Z]{2}$")]  # ISO 3166-1 alpha-2
Currency = Annotated[str, StringConstraints(pattern=r"^[A-Z]{3}$")]  # ISO 4217
Language = Annotated[str, StringConstraints(pattern=r"^[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8}){0,6}$")]  # BCP 47
Month = Annotated[str, StringConstraints(pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])$")]  # ISO 8601
ClockTime = Annotated[str, StringConstraints(pattern=r"^([01][0-9]|2[0-3]):[0-5][0-9]$")]  # ISO 8601
Count = Annotated[int, Field(ge=1, le=1_000_000_000)]
Whole = Annotated[int, Field(ge=0, le=1_000_000_000_000)]
DangerLevel = Annotated[int, Field(ge=0, le=3)]


class Part(BaseModel):
    """Be strict: no guessing of types, no unknown key, no change after reading."""

    model_config: ClassVar[ConfigDict] = ConfigDict(
        strict=True,
        extra="forbid",
        frozen=True,
        allow_inf_nan=False,
        alias_generator=_field_name,
        validate_by_name=True,
        validate_by_alias=True,
        serialize_by_alias=True,
    )
