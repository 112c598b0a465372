"""What is written for the readers of a language is in that language, as a general identifier of languages sees it.

The identifier is py3langid (after Lui and Baldwin, "langid.py: An Off-the-shelf Language Identification Tool", ACL
2012), which knows nothing of our sentences; it chooses among the languages that are shipped.
"""

import re
from collections.abc import Iterator
from functools import cache

import pytest
from py3langid.langid import MODEL_FILE, LanguageIdentifier

from notices.wording import po
from tests import catalogues
from tests.source import ROOT

TAGS = catalogues.tags("notices")
_LETTERS = 18  # of a shorter text nobody can say whether "Version" is German or French
_NAMES = re.compile(r"%\(\w+\)s|Drayling 2|Quillmoor|Aldmere Trading")


@cache
def _identifier() -> LanguageIdentifier:
    found = LanguageIdentifier.from_model_file(MODEL_FILE)
    found.set_languages(sorted({tag.partition("-")[0] for tag in TAGS}))
    return found


def _language(text: str) -> str:
    return str(_identifier().classify(_NAMES.sub("", text))[0])


def _long_enough(text: str) -> bool:
    return sum(sign.isalpha() for sign in _NAMES.sub("", text)) >= _LETTERS


def _entries(tag: str) -> Iterator[tuple[str, po.Entry]]:
    files = [
        *(catalogues.LOCALES / tag).glob("*.po"),
        *sorted((ROOT / "notices/demo/folder").glob(f"translations-*/{tag}.po")),
    ]
    for file in files:
        for entry in po.read(file.read_text("utf-8")).entries:
            yield f"{file.parent.name}/{file.name}:{entry.line}", entry


@pytest.mark.parametrize("tag", TAGS)
def test_every_sentence_is_in_the_language_of_its_file(tag: str) -> None:
    texts = [
        (place, text) for place, entry in _entries(tag) for text in entry.translations if _long_enough(text)
    ]
    strange = [f"{place}: {text}" for place, text in texts if _language(text) != tag.partition("-")[0]]

    assert len(texts) > 100
    assert strange == []


def test_a_sentence_that_was_left_in_english_would_be_seen_in_any_file() -> None:
    left = {entry.msgid for _, entry in _entries("de") if _long_enough(entry.msgid)}

    assert len(left) > 100
    assert [text for text in left if _language(text) != "en"] == []
