"""A signed revision is one canonical text that reads back as what it was."""

import hashlib
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.campaign.models import Campaign, Issuer, Product, Remedy
from notices.campaign.revisions import ContentError, Revision, digest, from_content, to_content
from tests.stove import a_stove

_REVISION = Revision(
    campaign=a_stove(("number: 0, day", "number: 3, day")),
    translations={"de": {("free", "Nothing"): "Nichts", ("a", "b"): "“c”"}, "ar": {}},
    pictures={"pictures/stove.png": b"\x89PNG\0\xff"},
)


_SMALL = '{"issuer":{"name":"F"},"product":{"name":"E"}}'


def test_a_revision_reads_back_as_it_was() -> None:
    assert from_content(to_content(_REVISION)) == _REVISION


def test_the_number_is_the_campaigns() -> None:
    assert _REVISION.number == 3


def test_the_content_is_canonical() -> None:
    content = to_content(_REVISION)
    again = json.dumps(json.loads(content), sort_keys=True, ensure_ascii=False, separators=(",", ":"))

    assert content == again


def test_the_order_of_remedies_is_kept() -> None:
    campaign = a_stove(
        ("  refund:\n", "  a-refund:\n"), ("    label: Your money back\n", "    label: Money back\n")
    )
    found = from_content(to_content(Revision(campaign=campaign))).campaign

    assert list(found.remedies or ()) == ["new-valve", "a-refund"]


def test_the_order_of_translations_and_pictures_does_not_matter() -> None:
    turned = Revision(
        campaign=_REVISION.campaign,
        translations={"ar": {}, "de": {("a", "b"): "“c”", ("free", "Nothing"): "Nichts"}},
        pictures=_REVISION.pictures,
    )

    assert to_content(turned) == to_content(_REVISION)


def test_a_small_revision_is_written_out_like_this() -> None:
    campaign = Campaign(issuer=Issuer(name="F"), product=Product(name="E"))
    content = json.loads(to_content(Revision(campaign=campaign, pictures={"a.png": b"hello"})))

    written = json.loads(content["campaign"])

    assert (written["issuer"], content["pictures"], content["translations"]) == (
        {"name": "F", "address": []},
        {"a.png": "aGVsbG8="},
        {},
    )


def test_the_order_in_which_remedies_are_offered_is_kept() -> None:
    remedies = {"repair": Remedy(kind="repair"), "money": Remedy(kind="refund")}
    campaign = Campaign(issuer=Issuer(name="F"), product=Product(name="E"), remedies=remedies)
    read = from_content(to_content(Revision(campaign=campaign)))

    assert list(read.campaign.remedies or {}) == ["repair", "money"]


# FIPS 180-4: the digest of "abc" is the example of NIST's "SHA-256 example computation".
def test_the_digest_is_sha_256() -> None:
    assert digest("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest("ü") == hashlib.sha256("ü".encode()).hexdigest()


@pytest.mark.parametrize(
    "content",
    [
        "",
        "[]",
        "{}",
        "null",
        '{"campaign":{},"pictures":{},"translations":{}}',
        '{"campaign":"{}","pictures":{},"translations":{}}',
        '{"campaign":"{\\"issuer\\":{\\"name\\":\\"F\\"},\\"product\\":{\\"name\\":\\"E\\"}}","pictures":{"a":"%"},"translations":{}}',
        '{"campaign":"{\\"issuer\\":{\\"name\\":\\"F\\"},\\"product\\":{\\"name\\":\\"E\\"}}","pictures":{},"translations":{"de":[["a"]]}}',
        '{"campaign":"{\\"issuer\\":{\\"name\\":\\"F\\"},\\"product\\":{\\"name\\":\\"E\\"}}","pictures":[],"translations":{}}',
        "[" * 100_000,
    ],
)
def test_what_this_program_did_not_write_is_refused_without_quoting_it(content: str) -> None:
    with pytest.raises(ContentError, match="the stored revision cannot be read"):
        from_content(content)


@pytest.mark.property
@given(name=st.text(min_size=1), picture=st.binary())
def test_whatever_may_stand_in_a_campaign_reads_back(name: str, picture: bytes) -> None:
    try:
        campaign = Campaign(issuer=Issuer(name=name), product=Product(name="E"), share=name)
    except ValueError:
        return
    revision = Revision(campaign=campaign, pictures={"a": picture})

    assert from_content(to_content(revision)) == revision


def test_which_translations_nobody_has_read_is_signed_with_them() -> None:
    campaign = Campaign(issuer=Issuer(name="A"), product=Product(name="B"))
    unread = Revision(campaign=campaign, unread=("de", "ar"))

    assert from_content(to_content(unread)).unread == ("ar", "de")
    assert to_content(unread) != to_content(Revision(campaign=campaign))
