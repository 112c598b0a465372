"""The note that stops sales goes out when only the product's name is known."""

import re

from notices.compose.stop_sale import stop_sale_page, stop_sale_text
from tests.composing import TEMPLATES, campaign, catalogue, demo

BARE = "issuer: {name: Emberfold}\nproduct: {name: Emberfold S}\n"
NOTICES, BUREAU = catalogue("en"), catalogue("en", "bureau")


def test_it_can_be_printed_before_anything_else_is_known() -> None:
    text = " ".join(stop_sale_text(campaign(BARE), BUREAU, NOTICES, TEMPLATES).split())

    assert text.startswith("STOP SELLING: Emberfold S From Emberfold, to everyone who sells")
    assert "There may be a fault that can hurt someone." in text
    for told in (
        "1. Stop selling, hiring out, lending",
        "Put every piece aside in one locked place.",
        "Count them",
        "Do not send any back and do not scrap any",
        "take down name, telephone number and country",
        "Do not explain and do not guess",
        "No legal advice",
    ):
        assert told in text


def test_it_names_the_hazard_every_place_and_whom_to_send_callers_to_once_known() -> None:
    text = " ".join(stop_sale_text(demo(0), BUREAU, NOTICES, TEMPLATES).replace("\u00a0", " ").split())
    page = stop_sale_page(demo(0), BUREAU, NOTICES, TEMPLATES)

    assert "The steering link under the cargo box can break." in text
    assert "Call +44 808 157 0172, free of charge." in text
    assert all(f"Place: {place}" in text for place in demo(0).sale_stop.places)
    assert page.count('<th scope="row">') == len(demo(0).sale_stop.places)
    assert "WARNING" in page


def test_it_is_written_in_german_too() -> None:
    bureau = catalogue("de", "bureau")
    bureau.unsaid.clear()
    text = " ".join(stop_sale_text(demo(0, "de"), bureau, catalogue("de"), TEMPLATES).split())

    assert text.startswith(
        "VERKAUF STOPPEN: Drayling 2 Von Aldmere Trading, an alle, die das Produkt verkaufen"
    )
    assert "Erklären Sie nichts, und vermuten Sie nichts" in text
    assert bureau.unsaid == []


def test_its_sentences_are_all_in_the_bureaus_catalogue() -> None:
    BUREAU.unsaid.clear()
    stop_sale_page(demo(0), BUREAU, NOTICES, TEMPLATES)
    stop_sale_text(demo(0), BUREAU, NOTICES, TEMPLATES)

    assert BUREAU.unsaid == []


def test_a_name_with_every_delimiter_is_written_as_it_is() -> None:
    name = "[[ x ]] [% y %] %(day)s 100 % <b>"
    of = campaign(BARE.replace("name: Emberfold S", f'name: "{name}"'))

    assert stop_sale_text(of, BUREAU, NOTICES, TEMPLATES).startswith(f"STOP SELLING: {name}")
    assert "&lt;b&gt;" in stop_sale_page(of, BUREAU, NOTICES, TEMPLATES)
    assert not re.search("<b>", stop_sale_page(of, BUREAU, NOTICES, TEMPLATES))
