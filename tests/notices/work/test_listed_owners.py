"""What a list says of an owner's language and whereabouts, and what no list takes back."""

from dataclasses import replace
from pathlib import Path

import pytest

from notices.cases.records import OwnerRow
from tests.folders import Desk, a_desk


def listed(country: str = "", language: str = "") -> str:
    """Return a list of one owner."""
    return f"sale no,name,email,country,language\n1,Anna Berg,anna@mail.example,{country},{language}\n"


def owner(desk: Desk) -> OwnerRow:
    """Return the one owner."""
    with desk.world.register.look() as tx:
        (found,) = tx.people.owners().values()
    return found


@pytest.mark.parametrize(
    ("text", "language", "basis", "zone"),
    [
        (listed("GB", "fr"), "fr", "column", "Europe/London"),
        (listed("DE"), "de", "country", "Europe/Berlin"),
        (listed("BE"), "nl", "country-of-several", "Europe/Brussels"),
        (listed("US"), "en", "country", None),
        (listed("AQ"), "en", "default", None),
    ],
)
def test_the_language_says_on_what_it_rests_and_a_country_of_one_clock_gives_a_time_zone(
    tmp_path: Path, text: str, language: str, basis: str, zone: str | None
) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(text)
        found = owner(desk)

    assert (found.language, found.basis, found.time_zone) == (language, basis, zone)


def test_a_newer_list_gives_another_language_and_the_time_zone_of_another_country(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(listed("GB", "en"))
        desk.take(listed("DE", "de"))
        found = owner(desk)

    assert (found.language, found.country, found.time_zone) == ("de", "DE", "Europe/Berlin")


def test_a_language_that_the_owner_chose_is_not_taken_back_by_a_newer_list(tmp_path: Path) -> None:
    with a_desk(tmp_path / "c") as desk:
        desk.take(listed("GB", "en"))
        with desk.world.register.change() as tx:
            tx.people.put_owners(
                [replace(one, language="ar", basis="chosen") for one in tx.people.owners().values()]
            )
        desk.take(listed("GB", "de"))
        found = owner(desk)

    assert (found.language, found.basis) == ("ar", "chosen")
