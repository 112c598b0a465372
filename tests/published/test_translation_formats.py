"""The files for translators as a general library reads them: translate-toolkit, from PyPI, for PO and XLIFF 2."""

from functools import cache
from typing import Any

import pytest
from translate.storage import pypo, xliff2

from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.wording import placeholders, po
from notices.wording.translation_files import write_po
from notices.wording.xliff import write_xliff
from notices.wording.xliff_reading import read_xliff
from tests.composing import FOLDER, demo

PO: Any = pypo.pofile  # the library has types for half of itself
XLIFF: Any = xliff2.Xliff2File
TAGS = ("ar", "de", "fr")


@cache
def _source() -> Campaign:
    return demo(1)


def _po(tag: str) -> str:
    return write_po(_source(), tag, (FOLDER / f"translations-1/{tag}.po").read_text("utf-8"))


def _written(tag: str) -> list[tuple[str, str]]:
    return [(entry.msgid, entry.translations[0]) for entry in po.read(_po(tag)).entries if not entry.obsolete]


@pytest.mark.parametrize("tag", TAGS)
def test_po_is_read_the_same_elsewhere(tag: str) -> None:
    found = PO.parsestring(_po(tag).encode())
    units = [(str(unit.source), str(unit.target)) for unit in found.units if not unit.isheader()]

    assert [unit for unit in units if unit in _written(tag)] == _written(tag)


def _plain(text: str) -> str:
    """Return a text without its placeholders: the library shows those of XLIFF as codes."""
    return "".join(piece for piece in placeholders.split(text) if isinstance(piece, str))


@pytest.mark.parametrize("tag", TAGS)
def test_xliff_is_read_the_same_elsewhere(tag: str) -> None:
    found = XLIFF.parsestring(write_xliff(_source(), tag, _po(tag), lambda *_: []).encode())
    units = [(str(unit.source), str(unit.target)) for unit in found.units]

    assert found.gettargetlanguage() == tag
    assert units == [(_plain(source), _plain(target)) for source, target in _written(tag)]


def test_a_target_that_another_tool_wrote_comes_back() -> None:
    found = XLIFF.parsestring(write_xliff(_source(), "fr", "", lambda *_: []).encode())
    found.units[0].target = "Écrit ailleurs, avec un espace insécable\u00a0: « ici »."
    back = read_xliff(bytes(found))

    assert back.faults == ()
    assert [(entry.context, entry.msgid) for entry in back.entries] == list(translatable(_source()))
    assert back.entries[0].translations == ("Écrit ailleurs, avec un espace insécable\u00a0: « ici ».",)
