"""A notice in two pseudo-locales: nothing is written past the catalogues, and nothing is cut."""

import json
import re
from html import unescape

import pytest

from notices.campaign.texts import localise
from notices.compose.mail import compose_mail
from notices.wording.placeholders import names
from tests import pseudo
from tests.composing import PICTURES, TEMPLATES, demo, key

_TAGS = re.compile(r"<(style|title|head)\b.*?</\1>|<[^>]*>|<!--.*?-->", re.DOTALL)
# The firm's name and addresses are the same in every language; its country's name is CLDR's.
_OF_THE_FIRM = frozenset(
    {"Aldmere", "Trading", "Port", "Street", "Quay", "Irland", "safety", "aldmere", "example"}
)
_PLACES = re.compile(r"\[\[.*?\]\]")
_WORDS = re.compile(r"[A-Za-z]{3,}")


def _content(tag: str, kind: str) -> dict[str, str]:
    source = demo(1)
    said = localise(source, pseudo.translation(source))
    found = compose_mail(said, key(kind=kind, language=tag), pseudo.catalogue(tag), TEMPLATES, PICTURES)
    content: dict[str, str] = json.loads(found.content)
    return content


def _past(text: str) -> set[str]:
    """Return the words that stand outside every bracket; what a bracket holds may hold brackets."""
    depth, outside = 0, []
    for sign in _PLACES.sub(" ", text):
        depth += sign == pseudo.OPEN
        outside.append(" " if depth else sign)
        depth -= sign == pseudo.CLOSE
    return set(_WORDS.findall("".join(outside)))


@pytest.mark.parametrize("kind", ["stop", "first", "remind", "correct-safe"])
@pytest.mark.parametrize("tag", [pseudo.LEFT, pseudo.RIGHT])
def test_nothing_that_an_owner_reads_is_written_past_the_catalogues(tag: str, kind: str) -> None:
    content = _content(tag, kind)

    assert _past(content["subject"]) == set()
    for text in (content["text"], unescape(_TAGS.sub(" ", content["html"]))):
        assert _past(text) <= _OF_THE_FIRM
        assert text.count(pseudo.OPEN) == text.count(pseudo.CLOSE) > 0


@pytest.mark.parametrize(("tag", "direction"), [(pseudo.LEFT, "ltr"), (pseudo.RIGHT, "rtl")])
def test_the_direction_is_set_on_the_whole_mail(tag: str, direction: str) -> None:
    assert f'dir="{direction}"' in _content(tag, "first")["html"]


def test_a_pseudo_text_is_longer_and_keeps_its_placeholders() -> None:
    said = pseudo.text("Tell us by %(next_word)s.")

    assert said.startswith("⟦Téll úš bý %(next_word)s.~")
    assert said.endswith("~⟧")
    assert names(said) == ("next_word",)
