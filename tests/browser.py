"""A real browser, and the accessibility rules of axe-core run in it."""

import subprocess
import tarfile
from collections.abc import Collection, Iterator
from dataclasses import dataclass
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
# WCAG 2.2 at levels A and AA, the versions before it, and what axe-core's authors advise beyond them.
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


@dataclass(frozen=True, kw_only=True, slots=True)
class Looked:
    """What axe-core says of a page: its violations as ``rule: element``, and the elements it is unsure of.

    Each unsure one, for its contrast, is given by its HTML, its text colour and the
    colours behind it, from the element outwards, as CSS writes them.
    """

    violations: tuple[str, ...]
    unsure: tuple[tuple[str, str, tuple[str, ...]], ...]


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


_RUN = """async ([rules, off]) => {
  const options = {runOnly: rules, iframes: false, rules: Object.fromEntries(off.map(id => [id, {enabled: false}]))};
  const found = await axe.run(document, options);
  const behind = one => one ? [getComputedStyle(one).backgroundColor, ...behind(one.parentElement)] : [];
  const open = found.incomplete.filter(fault => fault.id === "color-contrast").flatMap(fault => fault.nodes);
  return {
    violations: found.violations.flatMap(fault => fault.nodes.map(node => `${fault.id}: ${node.html}`)),
    unsure: open.map(node => {
      const element = document.querySelector(node.target[0]);
      return [node.html, getComputedStyle(element).color, behind(element)];
    }),
  };
}"""


def axe(page: Page, source: str, *, off: Collection[str] = ()) -> Looked:
    """Run axe-core on *page*, without the rules named in *off* and without looking into frames."""
    page.evaluate(source)  # not a script tag: the page's own policy may refuse those
    found = page.evaluate(_RUN, [list(RULES), list(off)])
    unsure = tuple((html, colour, tuple(behind)) for html, colour, behind in found["unsure"])
    return Looked(violations=tuple(sorted(found["violations"])), unsure=unsure)
