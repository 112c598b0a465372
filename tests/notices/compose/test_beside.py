"""Stop and hazard in the source language beside a wording that nobody has read."""

import json

import pytest

from audiences.verdicts import Verdict
from notices.compose.mail import compose_mail
from tests.composing import PICTURES, TEMPLATES, campaign, catalogue, demo, key

BARE = "issuer: {name: Emberfold, email: a@emberfold.example}\nproduct: {name: S}\n"


@pytest.mark.parametrize("tag", ["de", "ar"])
def test_an_owner_who_reads_only_the_source_language_sees_the_stop_and_the_hazard(tag: str) -> None:
    source = demo(1)
    found = compose_mail(
        demo(1, tag), key(language=tag), catalogue(tag), TEMPLATES, PICTURES, source=source
    ).content
    content = json.loads(found)

    assert source.now.headline is not None
    assert source.hazard.what is not None
    for text in (content["html"], content["text"]):
        assert source.now.headline in text
        assert source.hazard.what in text
        assert text.index(source.hazard.what) < text.index("[[ units ]]")
    assert '<div lang="en" dir="ltr"' in content["html"]


def test_an_owner_who_is_cleared_sees_that_and_no_hazard() -> None:
    source = demo(1)
    cleared = key(verdict=Verdict.CLEARED, language="de")
    content = compose_mail(
        demo(1, "de"), cleared, catalogue("de"), TEMPLATES, PICTURES, source=source
    ).content

    assert source.hazard.what is not None
    assert "As far as we know on" in content
    assert source.hazard.what not in content


def test_what_is_not_written_yet_is_not_missed_beside_it() -> None:
    bare = campaign(BARE)
    content = compose_mail(
        bare, key(kind="stop", language="de"), catalogue("de"), TEMPLATES, {}, source=bare
    ).content

    assert "English" in content
