"""What is composed of the demo's words and ours says nothing that no notice says, across their joints too."""

import itertools

import pytest

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.compose.bulletin import bulletin_text
from tests.composing import LANGUAGES, TEMPLATES, catalogue, demo, filled, key
from tests.expressions import found


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(("revision", "kind"), [(0, "stop"), (1, "first"), (5, "first"), (5, "remind")])
def test_a_composed_mail_says_none(revision: int, kind: str, language: str) -> None:
    of = demo(revision, language)
    said = {
        one
        for verdict, segment in itertools.product(Verdict, Segment)
        for mail in (filled(of, key(kind, verdict, segment, language)),)
        for text in (mail.subject, mail.preheader, mail.text)
        for one in found(text, language)
    }

    assert said == set()


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("revision", range(6))
def test_the_public_notice_says_none(revision: int, language: str) -> None:
    text = bulletin_text(demo(revision, language), catalogue(language), TEMPLATES)

    assert found(text, language) == ()
