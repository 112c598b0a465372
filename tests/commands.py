"""The commands as a person types them, in a campaign folder of the test's own."""

import io
import json
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from notices.cli.__main__ import run
from tests.builders import DEMO_FOLDER

LIST = """\
order,code,name,email,phone,country,language,sold on
1,QM-2534-B0172,Anna Reed,anna@mail.example,,GB,en,2025-09-01
2,QM-2520-A0173,Jürgen Ölt,juergen@mail.example,,DE,de,2025-09-02
3,,Zoe Quirk,zoe(at)mail.example,,GB,,2025-09-03
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Said:
    """What a command printed, and its exit status."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:  # noqa: ANN401 - a test names the shape it expects
        """Return the output, read as JSON."""
        return json.loads(self.out)


@dataclass
class Desk:
    """A campaign folder and the commands typed in it."""

    folder: Path
    capsys: pytest.CaptureFixture[str]
    patch: pytest.MonkeyPatch

    def type(self, *words: str, answer: str = "") -> Said:
        """Run one command with *answer* at its input; nobody is there to answer where it is empty."""
        self.patch.setattr("sys.stdin", io.StringIO(answer))
        self.capsys.readouterr()
        status = run(words)
        out, err = self.capsys.readouterr()
        return Said(status=status, out=out, err=err)

    def write(self, name: str, text: str) -> Path:
        """Write a file into the folder."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
        return path

    def imported(self, text: str = LIST) -> Said:
        """Take a sales list in."""
        return self.type("owners", "import", str(self.write("sales.csv", text)), "--yes")

    def signed(self) -> Said:
        """Sign everything that somebody gets next."""
        return self.type("sign", "--by", "Mara Quill", "--all", "--unread-too", "--yes")


def a_campaign(folder: Path) -> Path:
    """Make the demo's campaign folder at revision 0, the stop warning."""
    shutil.copytree(DEMO_FOLDER / "pictures", folder / "pictures")
    shutil.copytree(DEMO_FOLDER / "translations-0", folder / "translations")
    shutil.copy(DEMO_FOLDER / "campaign-0.yaml", folder / "campaign.yaml")
    return folder


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Desk:
    """Return a desk in the demo's campaign folder at revision 0, the stop warning."""
    folder = a_campaign(tmp_path / "steering-link")
    monkeypatch.chdir(folder)
    monkeypatch.setenv("COLUMNS", "80")
    return Desk(folder=folder, capsys=capsys, patch=monkeypatch)
