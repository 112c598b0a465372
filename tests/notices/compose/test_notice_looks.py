"""How notices look in a real browser: nothing is cut off on a phone, and everybody can read them (WCAG 2.2 AA)."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from audiences import canonical
from audiences.segments import Segment
from notices.compose.bulletin import Edition, bulletin_page
from notices.compose.mail import sample_values
from notices.compose.proofs import Proof, proof_pages
from notices.compose.stop_sale import stop_sale_page
from notices.compose.values import FORMS
from tests.browser import axe
from tests.composing import (
    LANGUAGES,
    PICTURES,
    TEMPLATES,
    catalogue,
    composed,
    demo,
    filled,
    key,
    unit,
)

NOW = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
# A mail is an article inside the mail program's own page: that page has the landmarks.
OFF_IN_A_MAIL = ("region", "landmark-one-main")
_OVERFLOW = "document.documentElement.scrollWidth > document.documentElement.clientWidth"
_CUT = """[...document.querySelectorAll('h1, h2, p, li, a, strong, td')].filter(
    it => it.offsetParent && it.scrollWidth > it.clientWidth + 1 && getComputedStyle(it).display !== 'inline'
).map(it => it.textContent)"""


def faults(browser: Browser, html: str, width: int, rules: str, off: tuple[str, ...] = ()) -> list[str]:
    """Show a page and return what is cut off and what is not accessible."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    try:
        page.set_content(html)
        wide = ["wider than the screen"] if page.evaluate(_OVERFLOW) else []
        return [*wide, *page.evaluate(_CUT), *axe(page, rules, off=off).violations]
    finally:
        page.close()


@pytest.mark.parametrize("width", [320, 360, 700])
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_mail_fits_its_screen_and_is_accessible(
    chromium: Browser, axe_source: str, language: str, width: int
) -> None:
    mail = filled(
        demo(1, language),
        key(segment=Segment.UNRIDDEN, language=language),
        units=(unit(), unit("QM-2535-B0007", "AAAAAAA1")),
    )

    assert faults(chromium, mail.html, width, axe_source, off=OFF_IN_A_MAIL) == []


@pytest.mark.parametrize("width", [320, 900])
@pytest.mark.parametrize("language", LANGUAGES)
def test_the_public_page_fits_its_screen_and_is_accessible(
    chromium: Browser, axe_source: str, language: str, width: int
) -> None:
    page = bulletin_page(
        demo(1, language),
        catalogue(language),
        TEMPLATES,
        editions=tuple(Edition(tag=tag, address=f"{tag}.html") for tag in LANGUAGES),
        revisions=(demo(0, language).revision, demo(1, language).revision),
        pictures=PICTURES,
    )

    assert faults(chromium, page, width, axe_source) == []


@pytest.mark.parametrize("width", [320, 900])
def test_the_note_to_sellers_fits_its_screen_and_is_accessible(
    chromium: Browser, axe_source: str, width: int
) -> None:
    page = stop_sale_page(demo(0), catalogue("en", "bureau"), catalogue("en"), TEMPLATES)

    assert faults(chromium, page, width, axe_source) == []


@pytest.mark.parametrize("width", [320, 1440])
def test_the_proofs_fit_their_screen_and_are_accessible(
    chromium: Browser, axe_source: str, width: int, tmp_path: Path
) -> None:
    of = demo(1, "ar")
    samples = {
        form: canonical.dump(sample_values(of, catalogue("ar"), country="DE", form=form)) for form in FORMS
    }
    proof = Proof(composed=composed(of, key(language="ar")), owners=2, samples=samples)
    found = proof_pages(demo(1), [proof], catalogue("en", "bureau"), TEMPLATES, PICTURES, date=NOW)
    for name, data in found.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    shown = []
    for name in ("index.html", "first-affected-unknown-EU-ar/index.html"):
        page = chromium.new_page(viewport={"width": width, "height": 800})
        page.goto((tmp_path / name).as_uri())
        shown += ["wider than the screen"] if page.evaluate(_OVERFLOW) else []
        shown += axe(page, axe_source).violations
        page.close()

    assert shown == []


def test_the_pictures_of_a_framed_mail_are_really_shown(chromium: Browser, tmp_path: Path) -> None:
    samples = {
        form: canonical.dump(sample_values(demo(1), catalogue("en"), country="DE", form=form))
        for form in FORMS
    }
    proof = Proof(
        composed=composed(demo(1), key(), {"pictures/drayling.png": PICTURES["pictures/drayling.png"]}),
        owners=1,
        samples=samples,
    )
    found = proof_pages(demo(1), [proof], catalogue("en", "bureau"), TEMPLATES, PICTURES, date=NOW)
    for name, data in found.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_bytes(data)
    page = chromium.new_page()
    page.goto((tmp_path / "first-affected-unknown-EU-en/index.html").as_uri())
    page.wait_for_load_state("networkidle")
    widths = [
        frame.evaluate("[...document.images].map(image => image.naturalWidth)") for frame in page.frames[1:3]
    ]
    page.close()

    assert widths == [[1], [1]]
