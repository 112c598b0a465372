"""Every PO file, held against GNU gettext's own `msgfmt --check`: the format's first reader."""

import subprocess
from pathlib import Path

import pytest

from notices.campaign.loading import load
from notices.compose.speaking import PLACEHOLDERS
from notices.wording.places import notes
from notices.wording.translation_files import write_po
from tests import needs
from tests.source import ROOT

CATALOGUES = sorted((ROOT / "locales").glob("*/*.po"))
DEMO = ROOT / "notices/demo/folder"
TRANSLATIONS = sorted(DEMO.glob("translations-*/*.po"))


def _complaints(file: Path) -> str:
    """Return what msgfmt says is wrong; it warns of head lines that only a translators' project has."""
    msgfmt = needs.command("msgfmt", debian="gettext")
    done = subprocess.run([msgfmt, "--check", "-o", "/dev/null", str(file)], capture_output=True, check=False)
    said = done.stderr.decode().splitlines()
    return "\n".join(line for line in said if "warning: header field" not in line) + str(
        done.returncode or ""
    )


@pytest.mark.parametrize("file", CATALOGUES, ids=lambda file: f"{file.parent.name}/{file.stem}")
def test_every_shipped_catalogue_is_po(file: Path) -> None:
    assert _complaints(file) == ""


@pytest.mark.parametrize("file", TRANSLATIONS, ids=lambda file: f"{file.parent.name}/{file.stem}")
def test_every_exported_translation_is_po_also_once_its_source_was_reworded(
    file: Path, tmp_path: Path
) -> None:
    source = (DEMO / f"campaign-{file.parent.name[-1]}.yaml").read_text("utf-8")
    for name, text in (("same", source), ("reworded", source.replace("can break", "may break"))):
        loaded = load(text)
        assert loaded.campaign is not None
        exported = tmp_path / f"{name}.po"
        exported.write_text(
            write_po(
                loaded.campaign,
                file.stem,
                file.read_text("utf-8"),
                lambda path, said: notes(path, said, (), PLACEHOLDERS),
            ),
            "utf-8",
        )

        assert _complaints(exported) == ""


def test_a_file_for_a_new_language_is_po(tmp_path: Path) -> None:
    loaded = load((DEMO / "campaign-1.yaml").read_text("utf-8"))
    assert loaded.campaign is not None
    (tmp_path / "cs.po").write_text(write_po(loaded.campaign, "cs", None), "utf-8")

    assert _complaints(tmp_path / "cs.po") == ""
