"""Who is on a sales list: one record a row, each knowing the file and line it came from."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

Role = Literal["keeper", "buyer", "rider", "lessor", "guardian", "helper", "shop"]
"""Which part somebody has in a unit: the keeper has it, the buyer paid, the lessor lets it, the shop sold it."""

Channel = Literal["email", "phone", "letter"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where a row stands: *file* inside the campaign folder, *row* its line, counted from 1."""

    file: str
    row: int


@dataclass(frozen=True, kw_only=True, slots=True)
class ContactPoint:
    """One way to reach an owner.

    *value* is normalised for use, *value_key* for comparison only; *fault* is a stable kebab-case reason why
    it cannot be used, None where it can. *doubtful*: it can be used, and is most likely mistyped.
    """

    channel: Channel
    value: str
    value_key: str
    fault: str | None = None
    doubtful: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class ListedRow:
    """One row of a sales list, cleaned; None and "" mean that the list does not say.

    *country* and *sold_in* are ISO 3166-1 alpha-2, *language* is BCP 47, *address* holds postal lines from
    top to bottom, *shop* the name of who sold it, *raw* the cells as they came.
    """

    place: Place
    sale: str | None = None
    code: str | None = None
    name: str = ""
    kind: Literal["person", "firm"] = "person"
    customer: str | None = None
    email: ContactPoint | None = None
    phone: ContactPoint | None = None
    address: tuple[str, ...] = ()
    country: str | None = None
    language: str | None = None
    sold_on: date | None = None
    sold_in: str | None = None
    shop: str | None = None
    role: Role | None = None
    raw: tuple[str, ...] = ()
