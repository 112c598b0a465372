"""The invented lists hold what the scenario says, with any seed."""

import re
from collections import Counter
from functools import cache
from random import Random

import pytest

from audiences import addresses
from audiences.columns import guess, read_rows
from audiences.owners import ListedRow
from audiences.tables import read_csv
from audiences.verdicts import Judge, Judgement, judge
from notices.campaign.layouts import judge_of
from notices.demo import lists, numbers
from notices.demo.lists import Lists
from notices.demo.names import AWKWARD, READERS_OF_ARABIC
from tests.builders import a_campaign
from tests.demo_runs import FICTION

SEEDS = (0, 1, 7, 20260309)


@pytest.fixture(scope="module", params=SEEDS)
def made(request: pytest.FixtureRequest) -> Lists:
    return lists.made(request.param)


def rows_of(made: Lists) -> list[ListedRow]:
    found: list[ListedRow] = []
    for name, data in made.files.items():
        table = read_csv(data, f"{name}.csv")
        rows, _ = read_rows(table, guess(table.headings), default_country="IE")
        found += rows
    return found


def sold_once(rows: list[ListedRow]) -> list[ListedRow]:
    return list({(row.place.file, row.sale): row for row in rows}.values())


@cache
def revision_1() -> Judge:
    return judge_of(a_campaign(1), {})


def judged(row: ListedRow) -> Judgement:
    return judge(revision_1(), row.code)


def test_three_lists_hold_470_rows_of_466_sales(made: Lists) -> None:
    rows = rows_of(made)

    assert len(made.files) == 3
    assert len(rows) == 470
    assert len(sold_once(rows)) == 466


def test_the_units_belong_to_449_owners_one_of_them_a_leasing_firm_of_twelve(made: Lists) -> None:
    rows = sold_once(rows_of(made))
    owners = Counter((row.name, row.email.value_key if row.email else "") for row in rows)
    firms = {row.name for row in rows if row.kind == "firm"}

    assert len(owners) == 449
    assert Counter(owners.values()) == {1: 442, 2: 6, 12: 1}
    assert [name for (name, _), count in owners.items() if count == 12] == list(firms)


def test_391_codes_are_known_and_fall_as_the_scenario_says(made: Lists) -> None:
    coded = [row for row in sold_once(rows_of(made)) if row.code]
    lines = Counter(_line(row) for row in coded)
    weeks = {
        line: {int(re.sub(r"\W", "", row.code or "")[2:6]) for row in coded if _line(row) == line}
        for line in "ABCD"
    }

    assert len(coded) == 391
    assert lines == {"B": 322, "C": 26, "D": 31, "A": 12}
    assert weeks["B"] <= set(range(2518, 2548))
    assert weeks["C"] <= set(range(2531, 2535))
    assert weeks["D"] <= {2540, 2541}
    assert len({judged(row).rule for row in coded}) == 3


def _line(row: ListedRow) -> str:
    return re.sub(r"\W", "", row.code or "")[6]


def test_revision_1_clears_43_and_leaves_423(made: Lists) -> None:
    verdicts = Counter(judged(row).verdict.value for row in sold_once(rows_of(made)))

    assert verdicts == {"affected": 348, "missing": 75, "cleared": 43}


def test_34_owners_who_are_not_cleared_have_no_usable_mail_but_a_postal_address(made: Lists) -> None:
    without = [row for row in sold_once(rows_of(made)) if row.email is None or row.email.fault]
    malformed = {row.email.fault for row in without if row.email}

    assert len(without) == 34
    assert {judged(row).verdict.value for row in without} <= {"affected", "missing"}
    assert all(addresses.letter(row.address, row.country).fault is None for row in without)
    assert malformed >= {"no-at-sign"}


def test_two_read_arabic_and_five_live_in_the_united_states(made: Lists) -> None:
    rows = sold_once(rows_of(made))

    assert Counter(row.country for row in rows if row.language == "ar") == {"DE": 2}
    assert len({row.name for row in rows if row.country == "US"}) == 5
    assert {row.country for row in rows} == {"IE", "GB", "DE", "FR", "NL", "BE", "ES", "IT", "PL", "US"}


def test_every_mail_domain_is_one_that_can_never_be_real(made: Lists) -> None:
    """RFC 2606, section 2: ``.example`` is reserved."""
    typed = [row.email.value for row in rows_of(made) if row.email]

    assert len(typed) > 430
    assert all(each.rstrip(")").endswith(".example") for each in typed)


def test_every_telephone_number_lies_in_a_range_kept_for_fiction(made: Lists) -> None:
    phones = [row.phone for row in rows_of(made) if row.phone]
    shared = Counter(
        one.value for one in {row.name: row.phone for row in rows_of(made) if row.phone}.values()
    )

    assert len(phones) > 100
    assert [one.value for one in phones if one.fault or not FICTION.fullmatch(one.value)] == []
    assert max(shared.values()) == 1


def test_all_numbers_that_can_be_drawn_are_fiction_and_none_is_the_firms() -> None:
    drawn = {
        addresses.phone(each, country).value
        for country in ("GB", "DE", "FR", "US")
        for each in numbers.unused(Random(3), country)  # noqa: S311 - a repeatable draw, no secret
    }

    assert len(drawn) == 4995
    assert [each for each in drawn if not FICTION.fullmatch(each)] == []
    assert drawn & {"+448081570172", "+493023125172", "+33199000172", "+12125550172"} == set()


def test_a_country_without_a_known_range_has_no_numbers() -> None:
    assert list(numbers.unused(Random(3), "IE")) == []  # noqa: S311 - a repeatable draw, no secret


def test_names_that_go_wrong_elsewhere_are_in_every_list_of_owners(made: Lists) -> None:
    names = {row.name for row in rows_of(made)}
    wanted = {f"{given} {family}" for given, family, *_ in (*AWKWARD, *READERS_OF_ARABIC)}

    assert wanted <= names


def test_the_same_seed_gives_the_same_bytes_and_another_gives_others() -> None:
    assert lists.made(5).files == lists.made(5).files
    assert lists.made(5).files != lists.made(6).files
