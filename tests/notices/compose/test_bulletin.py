"""The public page: what stands on it, in which languages, and that nothing comes from elsewhere."""

import base64
import html as entities
import re
from datetime import date

import pytest

from notices.campaign.models import RevisionNote
from notices.compose.bulletin import Edition, bulletin_page, bulletin_text
from tests.composing import LANGUAGES, PICTURES, PNG, STOVE, TEMPLATES, campaign, catalogue, demo

EDITIONS = tuple(Edition(tag=tag, address=f"{tag}.html") for tag in LANGUAGES)
REVISIONS = (
    RevisionNote(number=0, day=date(2026, 2, 26), why="First warning."),
    RevisionNote(number=1, day=date(2026, 3, 3), why="The repair can be promised."),
)
_TAGS = re.compile(r"<style.*?</style>|<title>.*?</title>|<[^>]+>", re.DOTALL)


def page(revision: int = 1, tag: str = "en") -> str:
    """Make the demo's public page."""
    return bulletin_page(
        demo(revision, tag),
        catalogue(tag),
        TEMPLATES,
        editions=EDITIONS,
        revisions=REVISIONS,
        pictures=PICTURES,
    )


def seen(html: str) -> str:
    """Return what a reader sees."""
    return " ".join(entities.unescape(_TAGS.sub(" ", html)).split())


@pytest.mark.parametrize("tag", LANGUAGES)
@pytest.mark.parametrize("revision", [0, 1])
def test_every_language_has_its_page_without_a_bare_sentence(revision: int, tag: str) -> None:
    said = catalogue(tag).unsaid
    said.clear()
    html = page(revision, tag)
    text = bulletin_text(
        demo(revision, tag), catalogue(tag), TEMPLATES, editions=EDITIONS, revisions=REVISIONS
    )

    assert said == []
    assert html.startswith(f'<!doctype html>\n<html lang="{tag}" dir="{"rtl" if tag == "ar" else "ltr"}">')
    assert not re.search(r"%\(|\[\[|\]\]|\bNone\b", seen(html) + text)


def test_it_says_hazard_what_to_do_and_what_the_firm_does_for_each_use() -> None:
    text = seen(page())

    assert "WARNING Stop riding your Drayling 2 now." in text
    assert text.index("Knocking, play or a crooked wheel") < text.index("Never ridden")
    assert "We fetch the bicycle by van and repair it in our workshop." in text
    assert (
        "I am not sure Stop riding. Do not push it with a load or a child in the box. Take nothing apart."
        " We will find out with you."
    ) in text
    assert "Or, if you would rather: Your money back. The full price you paid." in text
    assert "Use only the parts we send." in text


@pytest.mark.parametrize(
    ("tag", "promise"),
    [
        ("en", "What we do: A mechanic comes to you."),
        ("fr", "Ce que nous faisons\u00a0: Un mécanicien vient chez vous."),
    ],
)
def test_the_name_of_a_use_stands_once_over_its_promise(tag: str, promise: str) -> None:
    text = bulletin_text(demo(1, tag), catalogue(tag), TEMPLATES, revisions=REVISIONS)

    assert promise in " ".join(text.split("\n"))


def test_the_ledger_is_open_the_newest_first() -> None:
    text = seen(page())

    assert (
        "What we know 2 March 2026 Known The links of one batch were not made to the strength they need. "
        "26 February 2026 Known Two links have broken. One rider broke a wrist. 25 February 2026 Being checked"
    ) in text
    assert "Not yet known How long such a link lasts." in text


def test_every_change_is_listed_the_last_first() -> None:
    text = seen(page())

    assert "3 March 2026. The repair can be promised. 26 February 2026. First warning." in text


def test_the_code_can_be_checked_only_where_there_is_an_answer_page() -> None:
    of = demo(1)
    bare = of.model_copy(update={"issuer": of.issuer.model_copy(update={"answers": None})})
    without = bulletin_page(bare, catalogue("en"), TEMPLATES)

    assert '<form class="box" method="post" action="https://aldmere.example/drayling/">' in page()
    assert "<form" not in without
    assert "Send us the code, or a photo of it." in seen(without)


def test_a_code_field_is_never_filled_in_beforehand() -> None:
    field = re.search(r'<input id="code"[^>]*>', page())

    assert field
    assert "value=" not in field[0]


def test_each_country_reads_how_to_reach_us() -> None:
    text = seen(page())

    assert "United Kingdom. Call +44 808 157 0172 , free of charge." in text
    assert "Belgium, Ireland, Italy, Netherlands, Poland and Spain. Send us your telephone number" in text


def test_the_languages_lead_to_one_another() -> None:
    html = page(1, "de")

    assert '<a href="ar.html" lang="ar" hreflang="ar"><bdi>العربية</bdi></a>' in html
    assert '<span aria-current="page">Deutsch</span>' in html


def test_an_edition_elsewhere_is_a_web_address_and_no_script() -> None:
    of, editions = demo(1), (Edition(tag="de", address="javascript:alert(1)"),)

    assert 'href="https://javascript:alert(1)"' in bulletin_page(
        of, catalogue("en"), TEMPLATES, editions=editions
    )


def test_the_page_stands_alone_without_script_or_anything_from_elsewhere() -> None:
    html = page()
    sources = re.findall(r'(?:src|srcset|background)="([^"]+)"', html)

    assert {source.partition(",")[0] for source in sources} == {"data:image/png;base64"}
    assert base64.b64encode(PNG).decode() in html
    assert "<script" not in html
    assert "<link" not in html
    assert "@import" not in html
    assert " style=" not in html
    assert not re.search(r'\son\w+="', html)


def test_a_stop_warning_has_no_table_of_remedies() -> None:
    text = seen(page(0))

    assert "Important safety warning" in text
    assert "We are working on the repair. You will hear from us by 3 March." in text
    assert "How it has been used" not in text


def test_a_stove_has_a_page_too() -> None:
    text = seen(bulletin_page(campaign(STOVE), catalogue("en"), TEMPLATES))

    assert "DANGER Do not light your Emberfold S." in text
    assert "A new valve. We send a fitter." in text
    assert "bicycle" not in text


def test_plain_text_and_page_hold_the_same_facts() -> None:
    text = " ".join(
        bulletin_text(demo(1), catalogue("en"), TEMPLATES, revisions=REVISIONS).replace("\u00a0", " ").split()
    )
    shown = seen(page())

    for fact in (
        "Stop riding your Drayling 2 now. Carry nobody in it.",
        "We fetch the bicycle by van and repair it in our workshop.",
        "Use only the parts we send.",
        "We will write again by 10 March, even if there is nothing new.",
        "We never ask for bank data",
    ):
        assert fact in text
        assert fact in shown


def test_a_sentence_with_the_telephone_names_every_number() -> None:
    of = demo(1).model_copy(update={"free": "Call %(phone)s for nothing."})

    assert "Call +44 808 157 0172 , +49 30 23125172 , +33 1 99 00 01 72 , +1 212 555 0172 for" in seen(
        bulletin_page(of, catalogue("en"), TEMPLATES)
    )


def test_a_use_without_a_name_keeps_its_promise() -> None:
    text = STOVE.replace("    all: {promise", "    unridden: {promise").replace(
        "  unridden: {name: Never lit}\n", ""
    )
    shown = seen(bulletin_page(campaign(text), catalogue("en"), TEMPLATES))

    assert "What we do – Close the cartridge and take it off. We send a fitter." in shown  # noqa: RUF001 - as shown


def test_a_use_without_a_promise_has_no_row() -> None:
    text = STOVE.replace("    all: {promise: We send a fitter., by", "    unridden: {by")

    assert "How it has been used" not in seen(bulletin_page(campaign(text), catalogue("en"), TEMPLATES))


def test_a_page_without_a_day_bears_its_number() -> None:
    text = STOVE.replace(", day: 2026-03-03", "").replace("on %(day)s, ", "")

    assert "Revision 1." in seen(bulletin_page(campaign(text), catalogue("en"), TEMPLATES))


def test_a_number_that_is_no_number_is_shown_as_written() -> None:
    text = STOVE.replace("phone: null", "phone: ring us")

    assert "Ireland. Call ring us ." in seen(
        bulletin_page(campaign(text), catalogue("en"), TEMPLATES)
    ).replace("us.", "us .")
