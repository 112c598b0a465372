"""In which of the written languages an owner is written to."""

from dataclasses import replace

import pytest

from notices.campaign.revisions import Revision
from notices.work.revisions import speaks_to
from tests import composing

WRITTEN = """
issuer: {name: Emberfold}
product: {name: Emberfold S}
languages: {written: [en, en-US, de, pt-BR], default: en}
"""
REVISION = Revision(
    campaign=composing.campaign(WRITTEN), translations={"en-US": {}, "de": {}, "pt-BR": {}}, pictures={}
)


@pytest.mark.parametrize(
    ("language", "country", "basis", "spoken"),
    [
        ("en", "US", "country", "en-US"),
        ("en", "US", "chosen", "en"),
        ("en", "GB", "column", "en"),
        ("en", None, "default", "en"),
        ("en-IE", "US", "column", "en"),
        ("de", "US", "column", "de"),
        ("de", "AT", "country", "de"),
        ("pt", "BR", "country", "pt-BR"),
        ("pt", "PT", "country", "en"),
        ("fr", "US", "column", "en"),
    ],
)
def test_a_language_without_a_region_is_read_as_the_owners_country_writes_it(
    language: str, country: str | None, basis: str, spoken: str
) -> None:
    owner = replace(composing.owner(country=country, language=language), basis=basis)

    assert speaks_to(REVISION, owner) == spoken
