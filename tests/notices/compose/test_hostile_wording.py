"""Whatever an author or a list holds comes out as it was written, and is never obeyed."""

import html as entities
import re
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.campaign.shape import rewritten
from notices.compose.bulletin import bulletin_page, bulletin_text
from notices.compose.layouts import fill_html, fill_text
from notices.compose.mail import fill
from notices.compose.messages import written
from notices.compose.phrases import (
    clean,
    isolated,
    literal,
    typed_address,
    web_address,
    wording,
)
from notices.compose.pictures import by_digest
from tests.composing import PICTURES, TEMPLATES, catalogue, composed, demo, filled, key, owner, unit, values

NASTY = (
    "[[ units ]] [% if x %] [# c #] {{ x }} {% y %} {# z #} 100 % %d %(x)d %s [[[ ]]] \"q\" 'a' \\n"
    " <b>&lt;</b> &foo; ]]>"
)
NOW = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
IMAGES = by_digest(PICTURES)
READERS = re.compile(r"<style.*?</style>|<!--.*?-->|<[^>]+>", re.DOTALL)


def reads(html: str) -> str:
    """Return what a reader of the page sees."""
    return " ".join(entities.unescape(READERS.sub("\n", html)).split())


def test_wording_with_every_delimiter_in_every_field_comes_out_as_written() -> None:
    of = rewritten(demo(1), lambda _path, text: f"{NASTY} {text}")
    mail = filled(of, key())
    text, html = " ".join(mail.text.split()), reads(mail.html)

    assert mail.subject.startswith(NASTY)
    assert mail.preheader.startswith(NASTY)
    assert of.now.headline is not None
    for said in (
        of.now.headline,
        *of.now.steps_for(key().segment),
        of.hazard.what,
        of.free,
        of.now.call_at_once,
    ):
        assert said is not None
        assert said in text
        assert said in html


def test_the_same_wording_in_an_attribute_is_an_attribute() -> None:
    of = rewritten(demo(1), lambda path, text: NASTY if "alt" in path else text)
    alts = re.findall(r'<img alt="([^"]*)"', filled(of, key()).html)

    assert [entities.unescape(alt) for alt in alts] == [NASTY, NASTY]


def test_the_same_wording_on_the_public_page_comes_out_as_written() -> None:
    of = rewritten(demo(1), lambda _path, text: f"{NASTY} {text}")
    page = bulletin_page(of, catalogue("en"), TEMPLATES, pictures=PICTURES)
    text = " ".join(bulletin_text(of, catalogue("en"), TEMPLATES).split())

    assert of.now.headline is not None
    assert of.now.headline in reads(page)
    assert of.now.headline in text


def test_a_name_that_looks_like_markup_or_a_header_stays_a_name() -> None:
    name = 'Eve "x" <b>[[ call ]]\r\nBcc: all@example.org\x00\u202e'
    mail = filled(demo(1), key(), owner(name))

    assert "\r" not in mail.to_name
    assert "\n" not in mail.to_name
    assert "Bcc" not in mail.html


def test_a_code_that_looks_like_markup_is_escaped() -> None:
    mail = filled(demo(1), key(), units=(unit("<script>alert(1)</script>9999"),))

    assert "<script" not in mail.html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;····" in mail.html


@pytest.mark.parametrize(
    ("address", "followed"),
    [
        ("aldmere.example/x", "https://aldmere.example/x"),
        ("http://aldmere.example", "http://aldmere.example"),
        ("javascript:alert(1)", "https://javascript:alert(1)"),
        ('a.example/"><script>', "https://a.example/%22%3E%3Cscript%3E"),
        ("a.example/ä b", "https://a.example/%C3%A4%20b"),
    ],
)
def test_only_web_addresses_can_be_followed(address: str, followed: str) -> None:
    assert web_address(address) == followed


def test_an_address_is_typed_without_its_scheme() -> None:
    assert typed_address(" HTTPS://aldmere.example/a/ ") == "aldmere.example/a"


def test_controls_surrogates_and_overrides_never_pass() -> None:
    assert clean("a\r\nb\x00c\u202ed\ud800\u2028e\uffff") == "a  b cd\ufffd e"


def test_an_unknown_placeholder_is_text() -> None:
    assert wording("%(day)s %(nope)s 5 %", {"day"}).text(rtl=False) == "[[ day ]] %(nope)s 5 %"


def test_a_number_is_isolated_in_a_right_to_left_text_only() -> None:
    """UAX #9: U+2066 begins a left-to-right isolate, U+2069 ends it."""
    assert isolated("+49 30").text(rtl=True) == "\u2066+49\u00a030\u2069"
    assert isolated("+49 30").text(rtl=False) == "+49\u00a030"
    assert isolated("+49 30").html() == '<bdi dir="ltr">+49\u00a030</bdi>'


def test_a_sentence_gets_its_full_stop_once() -> None:
    assert literal("how long").ended().text(rtl=False) == "how long."
    assert literal("How long?").ended().text(rtl=False) == "How long?"


_TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn", "Zl", "Zp")), max_size=60)


@pytest.mark.property
@given(_TEXTS)
def test_any_text_passes_both_templates_unchanged(text: str) -> None:
    phrase = literal(text)

    assert entities.unescape(fill_html(str(phrase.html()), {})) == clean(text).replace("\r", "\n")
    assert fill_text(phrase.text(rtl=False), {}) == clean(text)


@pytest.mark.property
@given(_TEXTS.filter(lambda text: text.strip()))
def test_any_headline_reaches_the_reader_of_a_mail(text: str) -> None:
    folded = " ".join(text.split()) or "x"
    of = demo(1)
    mail = filled(of.model_copy(update={"now": of.now.model_copy(update={"headline": folded})}), key())
    found = wording(folded, frozenset()).text(rtl=False)

    assert " ".join(fill_text(found, {}).split()) in " ".join(mail.text.split())


@pytest.mark.property
@given(st.text(max_size=40), st.text(max_size=20))
def test_any_name_and_code_make_a_mail_and_a_message(name: str, code: str) -> None:
    of = demo(1)
    content = composed(of, key()).content
    mail = fill(content, values(of, who=owner(clean(name)), units=(unit(clean(code)),)))

    assert written(mail, to="a@b.example", date=NOW, message_id="<a@b.example>", pictures=IMAGES)
