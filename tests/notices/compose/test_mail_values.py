"""What differs between owners: whom they call, their link, what stands in its place where there is none."""

import json
from urllib.parse import parse_qs, unquote, urlsplit

import pytest

from audiences import canonical
from notices.compose.mail import fill, sample_values
from notices.compose.values import FORMS, call
from tests.composing import STOVE, campaign, catalogue, composed, demo, filled, key, owner, unit, values


@pytest.mark.parametrize(
    ("country", "told"),
    [
        ("GB", "Call 0808 157 0172, free of charge. Our hours: Monday to Saturday, 8 am to 6 pm."),
        (
            "DE",
            "Call 030 23125172. We will call you back free of charge. Our hours: Monday to Saturday, 8 am to 6 pm.",
        ),
        (
            "PL",
            "Send us your telephone number: safety@aldmere.example. We will call you back free of charge.",
        ),
        ("JP", "Write to us: safety@aldmere.example."),
        (None, "Write to us: safety@aldmere.example."),
    ],
)
def test_each_owner_reads_how_to_reach_us_from_their_country(country: str | None, told: str) -> None:
    text = filled(demo(1), key(), owner(country=country)).text.replace("\u00a0", " ")

    assert told in " ".join(text.split())


def test_a_telephone_number_can_be_dialled_from_the_mail() -> None:
    """RFC 3966: the global form of a tel URI."""
    assert 'href="tel:+44-808-157-0172"' in filled(demo(1), key(), owner(country="GB")).html


def test_a_number_that_is_no_number_stops_no_warning() -> None:
    of = demo(1)
    wrong = of.contacts[0].model_copy(update={"phone": "call me"})
    mail = filled(of.model_copy(update={"contacts": (wrong,)}), key(), owner(country="GB"))

    assert "Call call\u00a0me, free of charge." in mail.text


def test_the_link_is_a_button_and_can_be_typed() -> None:
    mail = filled(demo(1), key())

    assert mail.html.count('href="https://aldmere.example/drayling/7KQ2M4XD9R"') == 2
    assert "https://aldmere.example/drayling/7KQ2M4XD9R\n" in mail.text
    assert "Or type aldmere.example/drayling/7KQ2M4XD9R" in mail.text


def test_without_an_answer_page_the_button_writes_a_mail() -> None:
    """RFC 6068: line breaks in a mailto body are %0D%0A, everything else is per cent-encoded."""
    of = demo(1)
    bare = of.model_copy(update={"issuer": of.issuer.model_copy(update={"answers": None})})
    button = json.loads(values(bare))["button"]
    parts = urlsplit(button)
    mail = filled(bare, key())

    assert (parts.scheme, unquote(parts.path)) == ("mailto", "safety@aldmere.example")
    assert parse_qs(parts.query) == {
        "subject": ["STOPPED"],
        "body": ["STOPPED\r\n\r\nMy telephone number:\r\n\r\nYour reference: 7KQ2M4X5"],
    }
    assert 'href="mailto:safety@aldmere.example?subject=STOPPED&amp;body=STOPPED%0D%0A' in mail.html
    assert "Or reply to this mail with the word STOPPED and your telephone number." in " ".join(
        mail.text.split()
    )
    assert composed(bare, key()).findings == ()


def test_without_page_and_address_there_is_no_button_and_still_a_number() -> None:
    of = demo(1)
    bare = of.model_copy(update={"issuer": of.issuer.model_copy(update={"answers": None, "email": None})})
    mail = filled(bare, key())

    assert "I have stopped" not in mail.text
    assert "Call 030" in mail.text
    assert values(bare, who=owner(country="PL"))
    assert call(bare, catalogue("en"), bare.contact_for("PL")) == ()


@pytest.mark.parametrize("language", ["en", "de", "ar"])
@pytest.mark.parametrize("form", FORMS)
def test_a_proof_shows_the_three_forms_of_the_units(language: str, form: str) -> None:
    of = demo(1, language)
    sample = sample_values(of, catalogue(language), country="IE", form=form)  # type: ignore[arg-type] # parametrised
    mail = fill(composed(of, key(language=language)).content, canonical.dump(sample))
    shown = mail.text.count("QM-2534-B····")

    assert shown == {"one": 1, "none": 0, "several": 2}[form]


def test_a_campaign_without_a_code_layout_has_a_sample_too() -> None:
    of = campaign(STOVE)

    assert sample_values(of, catalogue("en"), country="IE", form="one")["units"] == [
        {"code": "SAMPLE-····", "reference": "00000000"}
    ]


def test_a_code_that_hides_nothing_needs_no_word_about_hidden_signs() -> None:
    of = campaign(STOVE)

    assert "not shown here" in filled(of, key(), units=(unit("E-1234567"),)).text
    assert "not shown here" not in filled(of, key(), units=(unit(None),)).text
