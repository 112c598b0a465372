"""Everybody can read it: axe-core finds nothing on any mail or page, narrow or wide, from either side."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests import showing
from tests.browser import axe
from tests.contrast import computed, ratio
from tests.showing import Open

WIDTHS = (320, 1280)
LANGUAGES = ("en", "ar")
LEAST = 4.5  # WCAG 2.2, 1.4.3
# Landmarks are a page's; a mail stands inside the mail program's own, and its layout tables are marked as such.
OFF_IN_A_MAIL = ("region", "landmark-one-main")


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    """Return one page for the whole module; it keeps nothing between the things it shows."""
    context = chromium.new_context()
    yield context.new_page()
    context.close()


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Open]:
    """Return the owners' pages, served once for the whole module."""
    with showing.open_pages(tmp_path_factory.mktemp("pages")) as found:
        yield found


def _faults(page: Page, source: str, off: tuple[str, ...] = ()) -> list[str]:
    """Return what is wrong at each width: axe's violations, faint text it was unsure of, and sideways scrolling."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        looked = axe(page, source, off=off)
        found += [f"{width}: {violation}" for violation in looked.violations]
        found += [
            f"{width}: faint: {html}" for html, ink, grounds in looked.unsure if not _clear(ink, grounds)
        ]
        # WCAG 2.2, 1.4.10, reflow: nothing scrolls in two directions at 320 CSS pixels.
        wide = page.evaluate("document.documentElement.scrollWidth")
        found += [f"{width}: {wide} pixels wide"] if wide > width else []
    return found


def _clear(ink: str, grounds: tuple[str, ...]) -> bool:
    """Say whether a text that axe-core could not judge has contrast enough, by our own reckoning."""
    colour = computed(ink)
    ground = next((found for found in map(computed, grounds) if found is not None), (255, 255, 255))
    return colour is not None and ratio(colour, ground) >= LEAST


def test_a_page_with_faults_is_found_out(page: Page, axe_source: str) -> None:
    showing.show(
        page,
        "<!doctype html><html><title>x</title><main><h1>x</h1><img src='data:,'>"
        "<p style='color:#999'>faint</p><div style='width:2000px'>wide</div></main>",
    )

    found = " ".join(_faults(page, axe_source))

    for rule in ("html-has-lang", "image-alt", "color-contrast", "320: 2008 pixels wide"):
        assert rule in found


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", sorted(showing.MAILS))
def test_a_mail_has_no_fault(page: Page, axe_source: str, name: str, language: str) -> None:
    showing.show(page, showing.mail(name, language))

    assert _faults(page, axe_source, OFF_IN_A_MAIL) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_answer_page_has_a_fault(page: Page, shop: Open, axe_source: str, language: str) -> None:
    found = {name: _faults(page, axe_source) for name in showing.answer_pages(page, shop, language)}

    assert len(found) > 30
    assert {name: faults for name, faults in found.items() if faults} == {}


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_bulletin_has_no_fault(page: Page, shop: Open, axe_source: str, language: str) -> None:
    page.goto(f"{shop.root}/bulletin?lang={language}")

    assert _faults(page, axe_source) == []


def test_the_proofs_have_no_fault(page: Page, axe_source: str, tmp_path: Path) -> None:
    folder = showing.proofs(tmp_path / "proofs")
    files = [folder / "index.html", *sorted(folder.glob("*/index.html"))]
    found = {}
    for file in files:
        page.goto(file.as_uri())
        found[file.parent.name] = _faults(page, axe_source)

    assert len(files) == 4
    assert {name: faults for name, faults in found.items() if faults} == {}
