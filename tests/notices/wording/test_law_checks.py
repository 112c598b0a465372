"""What a market's law asks for is found where it is missing, and held against that market's own notices alone.

Paragraphs are those of the instruments named in the tables; Regulation (EU) 2023/988 (GPSR) and 16 CFR part 1115 are
the published sources of the values here.
"""

import re

import pytest

from audiences.findings import Finding, Severity
from notices.assembly import laws
from notices.campaign.loading import load
from notices.campaign.needed import ANY_NOTICE, RECALL
from notices.wording.elements import DETECTORS
from notices.wording.law_checks import asked, missing_elements
from notices.wording.law_tables import SURE, tables
from notices.wording.passages import Reading
from tests.stove import WHOLE, changed, without

HEADLINE = "headline: Product safety recall}"
IN_THE_US = (
    f"GB: {{countries: [GB], {HEADLINE}",
    "US: {countries: [US], headline: Safety recall}",
)
NO_FREE_WAY = ("  answers: https://fellbrook.example/stove\n", "")
TABLES = {table.key: table for table in tables(laws())}


def read(text: str = WHOLE) -> Reading:
    loaded = load(text)
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    return Reading(campaign=loaded.campaign, lines=loaded.lines, laws=laws())


def found(*changes: tuple[str, str], text: str = WHOLE) -> list[Finding]:
    return list(missing_elements(read(changed(*changes, text=text))))


def line(piece: str, text: str = WHOLE) -> int:
    return text[: text.index(piece)].count("\n") + 1


def test_the_starting_folders_stove_holds_all_that_its_markets_ask_for() -> None:
    assert found() == []


@pytest.mark.parametrize(
    ("change", "path", "paragraph"),
    [
        (("  brand: Fellbrook\n", "  brand: Millpond\n"), "product.brand", "36(2)(b)(i)"),
        (("stove.png, shows: product", "stove.png, shows: part"), "product.pictures", "36(2)(b)(i)"),
        (("base.png, shows: code", "base.png, shows: part"), "product.pictures", "36(2)(b)(ii)"),
        (("    from: 2025-03\n", ""), "product.sold.from", "36(2)(b)(iii)"),
        (("    by: Fellbrook Outdoor and camping shops\n", ""), "product.sold.by", "36(2)(b)(iii)"),
        (NO_FREE_WAY, "contacts", "36(2)(f)"),
    ],
)
def test_a_recall_notice_in_the_eu_without_an_element_of_article_36_must_be_mended(
    change: tuple[str, str], path: str, paragraph: str
) -> None:
    (one,) = found(change)

    assert (one.code, one.path, one.severity) == ("element-missing", path, Severity.MUST_MEND)
    assert f"Regulation (EU) 2023/988, article {paragraph}" in one.source


def test_the_line_of_a_missing_element_is_that_of_the_part_around_it() -> None:
    (one,) = found(("  brand: Fellbrook\n", "  brand: Millpond\n"))

    assert (one.code, one.line) == ("element-missing", line("  brand: "))


def test_a_missing_code_is_one_complaint_with_every_law_that_asks() -> None:
    text = without("code", "affected", "otherwise")
    (one,) = [each for each in found(text=text) if each.path == "code"]

    assert "EU, consumer goods" in one.message
    assert "Great Britain" in one.message
    assert one.source.endswith("PAS 7100:2018 (to be confirmed)")


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("    by: Fellbrook Outdoor and camping shops\n", ""), "product.sold.by"),
        (("base.png, shows: code", "base.png, shows: part"), "product.pictures"),
    ],
)
def test_a_reason_in_the_ledger_excuses_what_the_law_asks_for_if_it_is_there(
    change: tuple[str, str], path: str
) -> None:
    fact = f"ledger:\n  - {{day: 2026-01-09, standing: known, inside: true, about: {path}, text: It cannot be.}}\n"

    must = [
        one
        for one in found(change, ("\nledger:", f"\n{fact[:-1]}".rstrip()))
        if one.severity is Severity.MUST_MEND
    ]
    assert must == []


def test_a_picture_of_the_product_is_asked_for_without_an_if() -> None:
    fact = "ledger:\n  - {standing: known, inside: true, about: product.pictures, text: There is none.}"
    (one,) = found(("stove.png, shows: product", "stove.png, shows: part"), ("\nledger:", f"\n{fact}"))

    assert one.severity is Severity.MUST_MEND


def test_what_the_ledger_has_as_open_is_not_complained_of_twice() -> None:
    change = ("    units: 620\n", "")
    fact = "ledger:\n  - {standing: not_yet_known, about: product.sold.units, text: how many there are}"

    assert [one.path for one in found(IN_THE_US, change)] == ["product.sold.units", "hours"]
    assert [one.path for one in found(IN_THE_US, change, ("\nledger:", f"\n{fact}"))] == ["hours"]


@pytest.mark.parametrize("countries", ["[IE, FR]", "[BE]", "[PL, IE]"])
def test_a_recall_notice_is_written_in_the_languages_of_each_country_of_the_eu(countries: str) -> None:
    (one,) = found((f"EU: {{countries: [IE], {HEADLINE}", f"EU: {{countries: {countries}, {HEADLINE}"))

    assert (one.path, one.severity) == ("languages.written", Severity.MUST_MEND)
    assert re.search(r"it in \w\w", one.message)


def test_whom_nobody_reaches_at_all_is_named_by_another_finding() -> None:
    text = changed(
        NO_FREE_WAY, ("  email: safety@fellbrook.example # owners see it and answer to it\n", ""), text=WHOLE
    )
    text = changed(('phone: "+442079460123", ', ""), text=text)

    assert [one for one in found(text=text) if one.path == "contacts"] == []


def test_a_free_number_in_every_country_does_where_no_page_answers() -> None:
    free = (
        "call_back: true, time_zone: Europe/Dublin",
        'free: true, phone: "+35315550123", time_zone: Europe/Dublin',
    )

    assert found(NO_FREE_WAY, free) == []


@pytest.mark.parametrize(
    ("language", "says", "there"),
    [
        ("en", "Do not light it.", True),
        ("en", "Please be careful.", False),
        ("de", "Benutzen Sie den Kocher nicht mehr.", True),
        ("de", "Seien Sie vorsichtig.", False),
        ("fr", "Soyez prudent.", False),
        ("fr", "N'utilisez plus le réchaud.", True),
        ("es", "No lo use.", True),
        ("it", "Faccia attenzione.", False),
        ("nl", "Gebruik hem niet.", True),
        ("pl", "Proszę uważać.", False),
        ("sv", "Var försiktig.", True),  # its signs are not known, so that nothing is said of it
    ],
)
def test_an_order_to_stop_is_found_by_its_words_in_each_language(
    language: str, says: str, *, there: bool
) -> None:
    reading = read(
        f'language: {language}\nissuer: {{name: A}}\nproduct: {{name: B}}\nnow: {{headline: "{says}"}}\n'
    )
    market = load("issuer: {name: A}\nproduct: {name: B}\nmarkets: {EU: {countries: [IE], headline: x}}\n")
    assert market.campaign is not None

    assert bool(DETECTORS["stop"].has(reading, market.campaign.markets["EU"])) is there


def test_a_warning_is_held_back_by_no_element_not_even_one_of_the_law() -> None:
    """Article 36(1) speaks of recalls alone; so no headline, code, price or remedy is asked of a stop warning."""
    bare = without("remedies", "code", "affected", "otherwise", "share", "corrections")
    seen = found(("stove.png, shows: product", "stove.png, shows: part"), text=bare)

    assert {one.severity for one in seen} == {Severity.CONSIDER}
    assert {one.path for one in seen} == {"product.pictures", "share"}
    assert all("good practice after" in one.source and "(to be confirmed)" in one.source for one in seen)


def test_a_warning_with_nothing_but_hazard_and_stop_has_nothing_to_mend_by_law() -> None:
    reading = read(
        "issuer: {name: A}\nproduct: {name: B}\nhazard: {what: It burns.}\nnow: {headline: Stop now.}\n"
        "markets: {EU: {countries: [IE], headline: Product safety recall}, US: {countries: [US], headline: x}}\n"
    )

    assert [one for one in missing_elements(reading) if one.severity is Severity.MUST_MEND] == []


def test_only_the_campaigns_own_markets_are_held_against_their_law() -> None:
    assert {one.table.key for one in asked(read())} == {"eu", "uk"}
    assert {one.table.key for one in asked(read(), everywhere=True)} == TABLES.keys()


def test_the_us_asks_for_units_makers_months_price_and_hours() -> None:
    """16 CFR 1115.27(c) to (n); the paragraph binds ordered notices, so that nothing is held back."""
    text = changed(
        IN_THE_US,
        ("    units: 620\n", ""),
        ("  made: {from: 2025-02, to: 2025-09, place: Fellbrook, country: GB}   # the US asks for it\n", ""),
        ("    kind: refund\n", "    kind: replace\n"),
        ("  price: {cents: 7900, currency: EUR}\n", ""),
        ("headline: Safety recall", "headline: Safety notice"),
    )  # fmt: skip
    seen = {one.path: one for one in found(text=text)}

    assert seen.keys() == {
        "product.sold.units", "product.maker", "product.made", "product.made.country", "product.price", "hours",
        "markets.US.headline",
    }  # fmt: skip
    assert {one.severity for one in seen.values()} == {Severity.CONSIDER}
    assert seen["product.price"].source == "16 CFR 1115.27(l)"
    assert seen["markets.US.headline"].line == line("US: {countries", text)


def test_a_price_that_a_refund_needs_too_is_complained_of_once() -> None:
    assert found(IN_THE_US, ("  price: {cents: 7900, currency: EUR}\n", ""))[0].path == "hours"


VEHICLE = (
    "US: {countries: [US], headline: Safety recall}",
    "US: {countries: [US], goods: vehicle, headline: Recall}",
)


def test_a_vehicles_notice_bears_the_words_of_its_law() -> None:
    """49 CFR 577.5(b), (c), (g)."""
    seen = found(text=changed(VEHICLE, text=changed(IN_THE_US)))
    told = {
        one.message.partition(" say ")[2].partition(":")[0]
        for one in seen
        if one.severity is Severity.MUST_MEND
    }

    assert any("IMPORTANT SAFETY RECALL" in one for one in told)
    assert any("National Traffic and Motor Vehicle Safety Act" in one for one in told)
    assert not any("without charge" in one for one in told)  # the stove says that owners pay nothing


def test_words_that_the_law_asks_for_are_found_wherever_an_owner_reads_them() -> None:
    law = "This notice is sent to you in accordance with the National Traffic and Motor Vehicle Safety Act."
    text = changed(VEHICLE, ("cautions:\n", f"cautions:\n  - {law}\n"), text=changed(IN_THE_US))

    assert not any("National Traffic" in one.message for one in found(text=text))


def test_goods_of_the_food_and_drug_law_are_held_against_that() -> None:
    change = ("headline: Safety recall}", "goods: medical, headline: Safety recall}")
    text = changed(change, text=changed(IN_THE_US))

    assert {one.table.key for one in asked(read(text))} == {"eu", "us-medical"}


@pytest.mark.parametrize("key", sorted(TABLES))
def test_a_table_says_how_each_element_is_found_and_how_it_is_known(key: str) -> None:
    codes = {need.code for need in (*ANY_NOTICE, *RECALL)} | {
        "headline-words", "remedy-for-nobody", "single-remedy", "incidents-missing",
    }  # fmt: skip
    for one in TABLES[key].elements:
        assert one.found_by in DETECTORS or one.words or one.said_by in codes
        assert one.recall in {"must", "should"}
        assert one.warning in {"", "should"}
        assert (one.mark in SURE) == (not one.cited.endswith("(to be confirmed)"))


def test_article_36_has_seven_elements() -> None:
    """Regulation (EU) 2023/988, article 36(2), (a) to (g)."""
    named = {
        re.search(r"36\(2\)\((\w)\)", one.source) for one in TABLES["eu"].elements if one.recall == "must"
    }

    assert {one[1] for one in named if one} == set("abcdefg")


def test_every_law_area_that_is_spoken_of_has_a_table() -> None:
    assert set(TABLES) == {
        "eu", "us-consumer", "us-vehicles", "us-medical", "uk", "ca", "au", "nz", "jp",
    }  # fmt: skip
