"""What was sold, how its marking is built up, and which units are affected."""

from collections.abc import Iterator
from datetime import date
from typing import Annotated, Any, ClassVar, Literal

from pydantic import AfterValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

from audiences.check_characters import Scheme
from notices.campaign.scalars import Count, Country, Currency, Key, Month, Part, Text, Whole, Word


class Picture(Part):
    """A file in the campaign folder, what it shows, and the words that stand in its place."""

    file: Word
    shows: Literal["product", "code", "part", "step"] = "product"
    alt: Text


class Sold(Part):
    """How many units were sold, in which months, by whom; *by_shop* says it for each shop and month."""

    units: Whole | None = None
    from_: Month | None = None
    to: Month | None = None
    by: Text | None = None
    by_shop: dict[Word, dict[Month, Whole]] = Field(default={})


class Made(Part):
    """In which months, in which town and country it was made."""

    from_: Month | None = None
    to: Month | None = None
    place: Word | None = None
    country: Country | None = None


class Price(Part):
    """The price of one unit in the smallest coin."""

    cents: Whole
    currency: Currency


class Product(Part):
    """The product family that holds the faulty part."""

    name: Word
    brand: Word | None = None
    maker: Word | None = None
    made: Made | None = None
    description: Text | None = None
    pictures: tuple[Picture, ...] = ()
    sold: Sold | None = None
    price: Price | None = None


Digits = Annotated[int, Field(ge=1, le=20)]


class LayoutPart(Part):
    """One stretch of the marking: fixed text, a separator, a check, or a named field of exactly one kind."""

    text: Word | None = None
    separator: Word | None = None
    check: Scheme | None = None
    over: tuple[Key, ...] = ()
    field: Key | None = None
    iso_year: Annotated[int, Field(ge=1, le=4)] | None = None
    year: Annotated[int, Field(ge=1, le=4)] | None = None
    since: Annotated[int, Field(ge=1900, le=2100)] | None = None
    iso_week: bool | None = None
    us_week: bool | None = None
    month: bool | None = None
    month_letters: Word | None = None
    year_day: bool | None = None
    day: bool | None = None
    digits: Digits | None = None
    base_34: Digits | None = None
    base_36: Digits | None = None
    one_of: Word | None = None
    places: Digits | None = None
    choice: tuple[Word, ...] = ()
    element: Literal["01", "10", "11", "21"] | None = None
    whole: bool | None = None


def _field_value(value: object) -> object:
    """Let a text or a whole number through."""
    if isinstance(value, str | int) and not isinstance(value, bool):
        return value
    raise PydanticCustomError("field_value", "neither text nor whole number")


def _condition(value: object) -> object:
    """Let a text, a whole number, or a short list of texts or of whole numbers through."""
    if not isinstance(value, list | tuple):
        return _field_value(value)
    kinds = {type(item) for item in value}
    if len(kinds) != 1 or not kinds <= {str, int}:
        raise PydanticCustomError("condition_form", "not a list of one kind")
    return tuple(value)


FieldValue = str | int
Condition = str | int | tuple[str, ...] | tuple[int, ...]


class Example(Part):
    """A marking that the layout must read, with the value expected of each field."""

    model_config: ClassVar[ConfigDict] = ConfigDict(extra="allow")
    # A union of types would say each fault once for every type; one check of our own says it once.
    __pydantic_extra__: dict[str, Annotated[Any, AfterValidator(_field_value)]]

    code: Word

    @property
    def fields(self) -> dict[str, FieldValue]:
        """Return the expected value of each field of the layout."""
        return dict(self.__pydantic_extra__)


class Code(Part):
    """The marking on a unit: where it stands, how it is built up, how it is misread."""

    label: Text | None = None
    where: Text | None = None
    layout: tuple[LayoutPart, ...] = ()
    layouts: dict[Key, tuple[LayoutPart, ...]] = Field(default={})
    example: Example | None = None
    examples: tuple[Example, ...] = ()
    hidden: Count = 4
    says: Text | None = None
    misread: tuple[tuple[Word, ...], ...] = ()


class OneSign(Part):
    """One sign of the code at one place, counted from 1 without spaces, hyphens, dots and separators."""

    place: Annotated[int, Field(ge=1, le=64)]
    one_of: Word


class CodeConditions(Part):
    """All that must hold of a code: a value or a range of fields, one sign, a list of codes, and groups of these."""

    model_config: ClassVar[ConfigDict] = ConfigDict(extra="allow")
    __pydantic_extra__: dict[str, Annotated[Any, AfterValidator(_condition)]]

    sign: OneSign | None = None
    codes: Word | None = None
    all: tuple["CodeConditions", ...] | None = None
    any: tuple["CodeConditions", ...] | None = None
    not_: "CodeConditions | None" = None

    @property
    def conditions(self) -> dict[str, Condition]:
        """Return the condition on each field, as written."""
        return dict(self.__pydantic_extra__)

    def groups(self) -> Iterator[tuple[str, "CodeConditions"]]:
        """Yield each group inside, and its path from here."""
        for key, several in (("all", self.all), ("any", self.any)):
            yield from ((f"{key}[{at}]", one) for at, one in enumerate(several or ()))
        if self.not_ is not None:
            yield "not", self.not_

    def within(self, path: str) -> Iterator[tuple[str, "CodeConditions"]]:
        """Yield these conditions and all groups inside them, however deep, each with its path below *path*."""
        yield path, self
        for key, group in self.groups():
            yield from group.within(f"{path}.{key}")


class AffectedRule(CodeConditions):
    """Name one rule: what it asks of a code, and on which days units without a code were sold, first and last."""

    rule: Key
    sold: tuple[date, ...] | None = None
