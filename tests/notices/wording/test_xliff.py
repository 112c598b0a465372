"""XLIFF out and in: the same texts come back, and no hostile file is more than a fault with its line."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.wording import po
from notices.wording.translation_files import write_po
from notices.wording.xliff import write_xliff
from notices.wording.xliff_reading import looks_like_xml, read_xliff

YAML = """
schema: 1
issuer: {name: Emberfold}
product: {name: Emberfold S}
hazard: {what: "Gas can leak if x < 3 & y > 2."}
now:
  headline: Put it out now.
  steps: {all: ["Tell us by %(next_word)s, or by %(next_word)s."]}
languages: {written: [en, de], default: en}
"""
DE = (
    'msgid ""\nmsgstr "Language: de\\nX-Read-By: A. <Reader>\\n"\n\n'
    'msgctxt "hazard.what"\nmsgid "Gas can leak if x < 3 & y > 2."\nmsgstr "Gas\u00a0tritt aus & <Schluss> \x01."\n\n'
    '#, fuzzy\n#| msgid "Out\x02 & away."\nmsgctxt "now.headline"\nmsgid "Put it out now."\nmsgstr "Aus."\n'
)
HEAD = '<xliff xmlns="urn:oasis:names:tc:xliff:document:2.0" version="2.1" srcLang="en" trgLang="de"><file id="f">'
TAIL = "</file></xliff>"


def _campaign() -> Campaign:
    loaded = load(YAML)
    assert loaded.campaign is not None
    return loaded.campaign


def _notes(path: str, _source: str) -> list[str]:
    return [f"{path} & more"]


def _units(*units: str) -> po.PoText:
    return read_xliff((HEAD + "\n" + "\n".join(units) + TAIL).encode())


def _pairs(found: po.PoText) -> list[tuple[str, str, tuple[str, ...], tuple[str, ...]]]:
    return [(entry.context, entry.msgid, entry.translations, entry.flags) for entry in found.entries]


def test_what_is_written_comes_back_sign_by_sign() -> None:
    found = read_xliff(write_xliff(_campaign(), "de", DE, _notes).encode())

    assert found.faults == ()
    assert found.headers == {"language": "de", "x-read-by": "A. <Reader>"}
    assert _pairs(found) == [
        ("hazard.what", "Gas can leak if x < 3 & y > 2.", ("Gas\u00a0tritt aus & <Schluss> \x01.",), ()),
        ("now.headline", "Put it out now.", ("Aus.",), ("fuzzy",)),
        ("now.steps.all", "Tell us by %(next_word)s, or by %(next_word)s.", ("",), ()),
    ]


def test_a_new_language_has_every_source_text_and_no_target() -> None:
    text = write_xliff(_campaign(), "ar", "", _notes)
    found = read_xliff(text.encode())

    assert "<target>" not in text
    assert [(entry.context, entry.msgid) for entry in found.entries] == list(translatable(_campaign()))
    assert found.headers["x-read-by"] == "nobody"


def test_what_is_obsolete_is_not_sent_to_a_translator() -> None:
    gone = write_po(_campaign(), "de", DE + '\nmsgctxt "free"\nmsgid "Gone."\nmsgstr "Weg."\n')

    assert "Gone." not in write_xliff(_campaign(), "de", gone, _notes)


def test_a_text_that_a_tool_cut_into_segments_is_joined_again() -> None:
    found = _units(
        '<unit id="1" name="now.headline"><segment><source>Put it out</source><target>Sofort</target></segment>'
        "<ignorable><source> </source><target> </target></ignorable>"
        "<segment><source>now.</source><target><mrk id='m1'>aus</mrk>.</target></segment></unit>"
    )

    assert _pairs(found) == [("now.headline", "Put it out now.", ("Sofort aus.",), ())]


def test_a_unit_from_elsewhere_is_an_entry_that_the_campaign_does_not_know() -> None:
    found = _units(
        '<m:glossary xmlns:m="urn:oasis:names:tc:xliff:glossary:2.0"><m:source>x</m:source></m:glossary>'
        '<unit id="1"><segment><source>a</source><target>b</target></segment></unit>'
    )

    assert _pairs(found) == [("", "a", ("b",), ())]


@pytest.mark.parametrize(
    ("inside", "expected"),
    [
        (
            "<segment><source>a</source><target>b</target></segment><segment><source>c</source></segment>",
            "a part of it has no target",
        ),
        (
            '<segment><source>a</source><target order="2">b</target></segment>',
            "its segments stand in another order than the source's; join them",
        ),
        (
            '<segment><source>a</source><target><ph id="1" dataRef="d9"/></target></segment>',
            "it holds a placeholder without original data",
        ),
        (
            '<segment><source>a</source><target><cp hex="zz"/></target></segment>',
            "it holds a sign that is no number (cp)",
        ),
        (
            '<segment><source>a</source><target><cp hex="FFFFFFFF"/></target></segment>',
            "it holds a sign that is no number (cp)",
        ),
        (
            '<segment><source>a</source><target><pc id="1">b</pc></target></segment>',
            "it holds the code <pc>, which no text of a campaign has",
        ),
    ],
)
def test_a_unit_with_a_fault_is_left_out_and_the_next_is_read(inside: str, expected: str) -> None:
    good = '<unit id="2" name="free"><segment><source>x</source><target>y</target></segment></unit>'
    found = _units(f'<unit id="1" name="now.headline">{inside}</unit>', good)

    assert [(fault.line, fault.message) for fault in found.faults] == [(2, f"unit now.headline: {expected}")]
    assert _pairs(found) == [("free", "x", ("y",), ())]


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">'
    '<!ENTITY c SYSTEM "file:///etc/passwd">]>'
)


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (BOMB + HEAD + "&b;&c;" + TAIL, "a document type (DOCTYPE) may not stand in it"),
        (HEAD + "&b;" + TAIL, "it is not XML (undefined entity)"),
        (HEAD, "it is not XML (no element found)"),
        ("<xliff/>", "it must be XLIFF 2.1, and is xliff none; export it anew or have it saved as 2.1"),
        (
            '<xliff xmlns="urn:oasis:names:tc:xliff:document:1.2" version="1.2"/>',
            "it must be XLIFF 2.1, and is xliff 1.2; export it anew or have it saved as 2.1",
        ),
        (
            HEAD.replace("2.1", "9.9") + TAIL,
            "it must be XLIFF 2.1, and is xliff 9.9; export it anew or have it saved as 2.1",
        ),
        (HEAD + "<group>" * 60, "its elements are nested more than 40 deep"),
        (
            '<?xml version="1.0" encoding="no-such"?>' + HEAD + TAIL,
            "its encoding is not known; save it as UTF-8",
        ),
    ],
)
def test_a_file_that_is_refused_is_one_fault(data: str, expected: str) -> None:
    found = read_xliff(data.encode())

    assert [fault.message for fault in found.faults] == [expected]
    assert (found.entries, found.headers) == ((), {})


def test_a_file_is_known_by_its_first_signs() -> None:
    assert looks_like_xml(b'\xef\xbb\xbf <?xml version="1.0"?>')
    assert looks_like_xml("<xliff/>".encode("utf-16"))
    assert not looks_like_xml(b'msgid ""')


@pytest.mark.property
@given(st.binary(max_size=300) | st.text(max_size=200).map(lambda inside: (HEAD + inside + TAIL).encode()))
def test_no_bytes_are_more_than_a_fault(data: bytes) -> None:
    found = read_xliff(data)

    assert found.faults or found.entries == ()
