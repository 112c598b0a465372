"""What is shipped in locales/: whole in every language, with the same placeholders, and obeying its glossary."""

import csv
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from notices.wording import formats, placeholders, po
from notices.wording.catalogues import missing, plural_header, read_catalogue
from tests import catalogues
from tests.source import ROOT

SHIPPED = [(domain, tag) for domain in catalogues.DOMAINS for tag in catalogues.tags(domain)]
_COLUMNS = ["english", "term", "avoid", "note"]


def test_owners_are_written_to_in_these_languages() -> None:
    assert catalogues.tags("notices") == ("ar", "de", "en", "en-US", "es", "fr", "it", "nl", "pl")


@pytest.mark.parametrize(("domain", "tag"), SHIPPED)
def test_every_catalogue_is_complete(domain: str, tag: str) -> None:
    text = (catalogues.LOCALES / tag / f"{domain}.po").read_text("utf-8")
    wanted = [sentence if sentence[1] else sentence[0] for sentence in catalogues.said(domain)]

    assert missing(read_catalogue(text, tag), wanted) == ()


@pytest.mark.parametrize(("domain", "tag"), SHIPPED)
def test_every_entry_is_written_and_stands_once(domain: str, tag: str) -> None:
    found = catalogues.held(domain, tag)
    keys = [(entry.context, entry.msgid) for entry in found.entries]

    assert found.faults == ()
    assert [entry.line for entry in found.entries if not entry.complete or entry.obsolete] == []
    assert sorted(keys) == sorted(set(keys))


@pytest.mark.parametrize(("domain", "tag"), SHIPPED)
def test_every_entry_has_the_placeholders_of_its_source(domain: str, tag: str) -> None:
    different = [
        f"line {entry.line}: {text}"
        for entry in catalogues.held(domain, tag).entries
        for text in entry.translations
        if not _same_placeholders(entry, text)
    ]

    assert different == []


def _same_placeholders(entry: po.Entry, text: str) -> bool:
    """Let a counted form leave its number out, as "the last sign" and the Arabic dual do."""
    found, wanted = set(placeholders.names(text)), set(placeholders.names(entry.plural or entry.msgid))
    return found == wanted or (bool(entry.plural) and found == wanted - {"count"})


@pytest.mark.parametrize(("domain", "tag"), SHIPPED)
def test_every_head_says_its_language_and_names_nobody(domain: str, tag: str) -> None:
    headers = catalogues.held(domain, tag).headers

    assert headers["language"] == tag
    assert headers["plural-forms"] == plural_header(tag)
    assert headers.get("x-read-by", "nobody") == "nobody"
    assert not headers.keys() & {"last-translator", "language-team"}


@pytest.mark.parametrize("tag", catalogues.tags("notices"))
def test_spans_are_written_out_in_every_shipped_language(tag: str) -> None:
    assert "\N{EN DASH}" not in formats.month_span("2025-05", "2025-12", tag)


def _glossary(tag: str) -> list[dict[str, str]]:
    with (catalogues.LOCALES / tag / "glossary.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


@pytest.mark.parametrize("tag", catalogues.tags("notices"))
def test_every_shipped_language_has_its_terms(tag: str) -> None:
    rows = _glossary(tag)

    assert rows
    assert all(list(row) == _COLUMNS and row["english"] and row["term"] for row in rows)


def _avoided(tag: str) -> Iterator[str]:
    for row in _glossary(tag):
        yield from (word.strip() for word in row["avoid"].split(";") if word.strip())


def _wordings(tag: str) -> Iterator[Path]:
    yield catalogues.LOCALES / tag / "notices.po"
    yield from (ROOT / "notices/demo/folder").glob(f"translations-*/{tag}.po")


@pytest.mark.parametrize("tag", catalogues.tags("notices"))
def test_no_owner_reads_a_term_that_the_glossary_avoids(tag: str) -> None:
    """The terms that play a hazard down are those of Regulation (EU) 2023/988, Article 36(2), from memory."""
    avoided = [re.compile(rf"(?<!\w){re.escape(word)}(?!\w)", re.IGNORECASE) for word in _avoided(tag)]
    used = [
        f"{file.parent.name}/{file.name}:{entry.line}: {term.pattern}"
        for file in _wordings(tag)
        for entry in po.read(file.read_text("utf-8")).entries
        for text in entry.translations
        for term in avoided
        if term.search(text)
    ]

    assert avoided
    assert used == []


def test_german_owners_never_read_of_a_handlebar_that_is_not_meant() -> None:
    """Lenkstange is the handlebar; the faulty part is the Lenkgestänge (terms of the trade, no source)."""
    texts = [file.read_text("utf-8") for file in _wordings("de")]

    assert any("Lenkgestänge" in text for text in texts)
    assert all("lenkstange" not in text.lower() for text in texts)
