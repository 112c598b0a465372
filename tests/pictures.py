"""Pictures of what people see: ``python -m tests.pictures`` makes the README's, with ``--into DIR`` every other."""

import argparse
import html
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests import showing
from tests.browser import FLAGS
from tests.reference import README

SHOWN = README.parent / "notices" / "demo" / "shown"
_BEGIN, _END = "<!-- pictures -->", "<!-- end of pictures -->"
_CAPTIONS = {
    "notice.png": "A recall notice by e-mail, as its owner sees it",
    "answer.png": "The first answer page on a telephone",
    "status.png": "Where every unit stands, in a terminal",
}
_GRID = (
    "<!doctype html><style>body{margin:0;background:#fff;color:#17191c}pre{margin:0;padding:20px 24px;width:90ch;"
    "white-space:pre-wrap;font:14px/1.45 'DejaVu Sans Mono',Consolas,Menlo,monospace}</style><pre>%s</pre>"
)
_MOST_BYTES = 150_000


@contextmanager
def _browser() -> Iterator[Browser]:
    path = shutil.which("chromium")
    if path is None:
        sys.exit("chromium is not installed (Debian: chromium)")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=list(FLAGS), headless=True)
        yield browser
        browser.close()


def _shoot(page: Page, file: Path, width: int, height: int = 800, *, whole: bool = True) -> None:
    page.set_viewport_size({"width": width, "height": height})
    file.parent.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=file, full_page=whole)


def all_pictures(into: Path) -> None:
    """Write every picture into *into*, named by what it shows, language and width in pixels."""
    with _browser() as browser, tempfile.TemporaryDirectory() as folder:
        page = browser.new_page()
        _mails(page, into / "mail")
        _proofs(page, into / "proofs", Path(folder) / "proofs")
        with showing.open_pages(Path(folder) / "pages") as shop:
            for language in ("en", "ar", "de"):
                for name in showing.answer_pages(page, shop, language):
                    for width in (320, 390, 900):
                        _shoot(page, into / "answers" / f"{name}-{language}-{width}.png", width)
            for language in ("en", "ar"):
                page.goto(f"{shop.root}/bulletin?lang={language}")
                for width in (320, 900):
                    _shoot(page, into / "bulletin" / f"{language}-{width}.png", width)


def _mails(page: Page, into: Path) -> None:
    for language in ("en", "de", "ar"):
        for name in showing.MAILS:
            showing.show(page, showing.mail(name, language))
            for width in (360, 700):
                _shoot(page, into / f"{name}-{language}-{width}.png", width)


def _proofs(page: Page, into: Path, place: Path) -> None:
    made = showing.proofs(place)
    variant = next(iter(sorted(made.glob("first-affected-*-en"))))
    for name, file in (("list", made / "index.html"), ("variant", variant / "index.html")):
        page.goto(file.as_uri())
        for width in (1440, 320):
            _shoot(page, into / f"{name}-{width}.png", width)


def the_readmes() -> None:
    """Make the three pictures that the README shows, small, and put them in where its marks are."""
    SHOWN.mkdir(exist_ok=True)
    with _browser() as browser, tempfile.TemporaryDirectory() as folder:
        page = browser.new_page()
        showing.show(page, showing.mail("first", "en"))
        _shoot(page, SHOWN / "notice.png", 640, 956, whole=False)
        with showing.open_pages(Path(folder) / "pages") as shop:
            next(showing.answer_pages(page, shop, "de"))
            _shoot(page, SHOWN / "answer.png", 390, 740, whole=False)
        showing.show(page, _GRID % html.escape(_status(Path(folder) / "demo")))
        page.set_viewport_size({"width": 900, "height": 400})
        page.locator("pre").screenshot(path=SHOWN / "status.png")
    for name in _CAPTIONS:
        _make_small(SHOWN / name)
    README.write_text(_written(README.read_text("utf-8")), "utf-8")


def _status(folder: Path) -> str:
    """Run the demo, and return what it leaves in the status."""
    environment = {**os.environ, "COLUMNS": "90"}
    run = [sys.executable, "-m", "notices.cli"]
    subprocess.run([*run, "demo", "--into", str(folder)], check=True, capture_output=True, env=environment)
    words = ["status", "--on", "2026-03-09"]
    status = [*run, *words, "--campaign", str(folder)]
    done = subprocess.run(status, check=True, capture_output=True, text=True, env=environment)
    return f"$ notices {' '.join(words)}\n\n{done.stdout}"


def _make_small(file: Path) -> None:
    """Keep at most 256 colours, which these pictures do with; more bytes than a README should load are a fault."""
    with Image.open(file) as picture:
        picture.convert("RGB").quantize(256).save(file, optimize=True)
    if file.stat().st_size > _MOST_BYTES:
        sys.exit(f"{file.name} has {file.stat().st_size} bytes, more than {_MOST_BYTES}")


def _written(text: str) -> str:
    before, _, rest = text.partition(_BEGIN)
    _, _, after = rest.partition(_END)
    place = SHOWN.relative_to(README.parent).as_posix()
    lines = [f"![{caption}]({place}/{name})\n" for name, caption in _CAPTIONS.items()]
    return f"{before}{_BEGIN}\n\n{chr(10).join(lines)}\n{_END}{after}"


if __name__ == "__main__":
    given = argparse.ArgumentParser(prog="python -m tests.pictures", description=__doc__)
    given.add_argument("--into", type=Path, metavar="DIR", help="a folder for every picture there is")
    asked = given.parse_args().into
    if asked is None:
        the_readmes()
    else:
        all_pictures(asked)
