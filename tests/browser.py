"""A real browser, and the accessibility rules of axe-core run in it."""

import subprocess
import tarfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests import needs

# Offline and quiet: no first-run pages, no updates, no QUIC, nothing fetched beside what a test opens.
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
# WCAG 2.2 at levels A and AA, and the versions before it.
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Return Debian's Chromium, started once for the whole run."""
    path = needs.command("chromium", debian="chromium")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=list(FLAGS), headless=True)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def axe_source(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Return the text of axe-core 4, fetched once for the whole run."""
    npm = needs.command("npm", debian="npm")
    place = tmp_path_factory.mktemp("axe")
    packed = subprocess.run(
        [npm, "pack", "axe-core@4", "--silent"], cwd=place, capture_output=True, text=True, check=False
    )
    if packed.returncode != 0:
        needs.missing("npm could not fetch axe-core")
    return _axe_of(place)


def _axe_of(place: Path) -> str:
    archive = next(place.glob("axe-core-*.tgz"))
    with tarfile.open(archive) as opened:
        file = opened.extractfile("package/axe.min.js")
        assert file is not None, "axe-core no longer ships axe.min.js"
        return file.read().decode()


def axe(page: Page, source: str) -> list[str]:
    """Run axe-core on *page* and return each violation as ``rule: element``, in order; [] is accessible."""
    page.evaluate(source)  # not a script tag: the page's own policy may refuse those
    found = page.evaluate(
        "rules => axe.run(document, {runOnly: rules}).then(result => result.violations)", list(RULES)
    )
    return sorted(f"{fault['id']}: {node['html']}" for fault in found for node in fault["nodes"])
