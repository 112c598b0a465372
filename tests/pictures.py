"""The pictures of the README: ``python -m tests.pictures`` makes them from the demo's campaign, at revision 1."""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from notices.assembly import opened
from notices.settings import Settings
from notices.work.links import link_of
from tests.browser import FLAGS
from tests.builders import DEMO_FOLDER
from tests.reference import README
from tests.source import ROOT

PLACE = ROOT / "docs"
BEGIN, END = "<!-- pictures -->", "<!-- end of pictures -->"
_LIST = """\
order,code,name,email,country,language
1,QM-2534-B0172,Anna Reed,anna@mail.example,GB,en
2,QM-2520-B0173,Jonas Ölt,jonas@mail.example,DE,de
3,QM-2521-B0174,Salma Haddad,salma@mail.example,DE,ar
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Picture:
    """One picture: its file, where it is taken, how wide, how high, and what it shows."""

    name: str
    address: str
    width: int
    height: int
    shows: str


def main() -> None:
    """Make every picture, and write them into the README."""
    with tempfile.TemporaryDirectory() as place:
        folder = _campaign(Path(place) / "steering-link")
        with _served(folder) as address, sync_playwright() as driver:
            path = shutil.which("chromium")
            browser = driver.chromium.launch(executable_path=path, args=list(FLAGS), headless=True)
            pictures = _pictures(folder, address)
            for picture in pictures:
                _take(browser, picture)
            browser.close()
    README.write_text(_written(README.read_text("utf-8"), pictures), "utf-8")
    sys.stdout.write(f"{len(pictures)} pictures are made.\n")


def _campaign(folder: Path) -> Path:
    shutil.copytree(DEMO_FOLDER / "pictures", folder / "pictures")
    shutil.copytree(DEMO_FOLDER / "translations-1", folder / "translations")
    shutil.copy(DEMO_FOLDER / "campaign-1.yaml", folder / "campaign.yaml")
    (folder / "sales.csv").write_text(_LIST, "utf-8")
    for words in (
        ("owners", "import", "sales.csv", "--yes"),
        ("proofs",),
        ("sign", "--by", "Mara Quill", "--all", "--yes"),
        ("bulletin",),
    ):
        _notices(folder, *words)
    return folder


def _notices(folder: Path, *words: str) -> None:
    subprocess.run(
        [sys.executable, "-m", "notices.cli", *words],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        check=True,
        stdout=subprocess.DEVNULL,
    )


@contextmanager
def _served(folder: Path) -> Iterator[str]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-m", "notices.cli", "serve", "--port", str(port)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait(address)
        yield address
    finally:
        process.terminate()
        process.wait()


def _wait(address: str) -> None:
    for _ in range(200):
        try:
            urllib.request.urlopen(address, timeout=5).close()  # noqa: S310 - our own server
        except urllib.error.HTTPError:
            return
        except urllib.error.URLError:
            time.sleep(0.05)
        else:
            return


def _pictures(folder: Path, address: str) -> list[Picture]:
    proofs, pages = (folder / "out/proofs").as_uri(), (folder / "out/bulletin").as_uri()
    first = "first-affected-unknown"
    return [
        Picture(
            name="notice.png",
            address=f"{proofs}/{first}-GB-en/one.html",
            width=640,
            height=1400,
            shows="The first notice as Anna reads it: the hazard, what to do now, one button",
        ),
        Picture(
            name="notice-ar.png",
            address=f"{proofs}/{first}-EU-ar/one.html",
            width=375,
            height=1100,
            shows="The same notice in Arabic on a phone",
        ),
        Picture(
            name="answer.png",
            address=f"{address}/{_link(folder)}",
            width=375,
            height=900,
            shows="The first page of the answer: one question, nothing to log into",
        ),
        Picture(
            name="bulletin.png",
            address=f"{pages}/index.html",
            width=900,
            height=1400,
            shows="The public page: the same hazard, what is known and what is not, every change",
        ),
        Picture(
            name="proofs.png",
            address=f"{proofs}/index.html",
            width=900,
            height=400,
            shows="What somebody gets next, to be read before it is signed",
        ),
    ]


def _link(folder: Path) -> str:
    with opened(folder, Settings()) as world, world.register.change() as tx:
        owner = next(owner for owner in tx.people.owners().values() if owner.name == "Anna Reed")
        return link_of(tx, owner.owner_id)


def _take(browser: Browser, picture: Picture) -> None:
    page = browser.new_page(viewport={"width": picture.width, "height": picture.height})
    page.goto(picture.address)
    PLACE.mkdir(exist_ok=True)
    page.screenshot(path=PLACE / picture.name)
    page.close()


def _written(text: str, pictures: list[Picture]) -> str:
    before, _, rest = text.partition(BEGIN)
    after = rest.partition(END)[2]
    shown = "\n\n".join(
        f"![{picture.shows}](docs/{picture.name})\n*{picture.shows}.*" for picture in pictures
    )
    return f"{before}{BEGIN}\n\n{shown}\n\n{END}{after}"


if __name__ == "__main__":
    main()
