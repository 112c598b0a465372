"""The files that go to translators: what helps them, and what is put into its place when it comes back."""

import pytest

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.wording import po
from notices.wording.translation_files import take, write_po

YAML = """
schema: 1
issuer: {name: Emberfold}
product: {name: Emberfold S}
hazard: {what: The valve can leak gas.}
now:
  headline: Put it out now.
  steps:
    all:
      - Tell us by %(next_word)s.
      - Tell us by %(next_word)s, 100 % of you.
languages: {written: [en, de], default: en}
"""
DE = (
    'msgid ""\nmsgstr "Language: de\\nX-Read-By: A. Reader\\n"\n\n'
    '# our own remark\n#. an old note\n#, fuzzy, python-format\n#| msgid "The valve leaks."\n'
    'msgctxt "hazard.what"\nmsgid "The valve can leak gas."\nmsgstr "Am Ventil tritt Gas aus."\n\n'
    'msgctxt "now.headline"\nmsgid "Put it out now."\nmsgstr "Sofort ausmachen."\n\n'
    '#. an old note\n#, python-format\nmsgctxt "now.near"\nmsgid "Gone."\nmsgstr "Weg."\n'
)
HEADLINE = ("now.headline", "Put it out now.")
WHAT = ("hazard.what", "The valve can leak gas.")


def _campaign() -> Campaign:
    loaded = load(YAML)
    assert loaded.campaign is not None
    return loaded.campaign


def _notes(path: str, source: str) -> list[str]:
    return [f"{path} has {len(source)} signs", "two\nlines"]


def _entries(text: str) -> dict[str, po.Entry]:
    return {entry.msgid: entry for entry in po.read(text).entries}


def test_every_entry_bears_its_notes_and_what_a_translator_noted_stays() -> None:
    found = _entries(write_po(_campaign(), "de", DE, _notes))

    assert found["The valve can leak gas."].comments == (
        "# our own remark",
        "#. hazard.what has 23 signs",
        "#. two lines",
    )
    assert found["The valve can leak gas."].flags == ("fuzzy",)
    assert found["Gone."].comments == ()
    assert found["Gone."].flags == ()


def test_a_text_is_marked_as_a_format_only_where_every_per_cent_sign_is_a_placeholder() -> None:
    found = _entries(write_po(_campaign(), "de", DE, _notes))

    assert found["Tell us by %(next_word)s."].flags == ("python-format",)
    assert found["Tell us by %(next_word)s, 100 % of you."].flags == ()


def test_written_again_with_notes_nothing_changes() -> None:
    once = write_po(_campaign(), "de", DE, _notes)

    assert write_po(_campaign(), "de", once, _notes) == once


def test_what_came_takes_the_place_of_what_stood_there_and_nobody_has_read_it() -> None:
    text = take(_campaign(), "de", DE, {WHAT: "Am Ventil kann Gas austreten."}, read_by=None)
    entry = _entries(text)["The valve can leak gas."]

    assert (entry.translations, entry.fuzzy, entry.previous) == (
        ("Am Ventil kann Gas austreten.",),
        False,
        "",
    )
    assert _entries(text)["Put it out now."].translations == ("Sofort ausmachen.",)
    assert po.read(text).headers["x-read-by"] == "nobody"


def test_where_nothing_new_came_whoever_read_it_has_read_it() -> None:
    text = take(_campaign(), "de", DE, {HEADLINE: "Sofort ausmachen."}, read_by=None)

    assert po.read(text).headers == {"language": "de", "x-read-by": "A. Reader"}


def test_who_has_read_what_came_stands_in_the_head() -> None:
    text = take(_campaign(), "de", None, {HEADLINE: "Sofort ausmachen."}, read_by='B. "Bo" \\ Reader')
    found = po.read(text)

    assert found.faults == ()
    assert found.headers["x-read-by"] == 'B. "Bo" \\ Reader'


@pytest.mark.parametrize("text", ["", None])
def test_what_is_gone_stays_gone_though_it_comes_again(text: str | None) -> None:
    came = take(_campaign(), "de", text, {("now.near", "Gone."): "Weg."}, read_by=None)

    assert "Gone." not in _entries(came)


def test_what_is_obsolete_is_not_put_anew() -> None:
    came = take(_campaign(), "de", DE, {("now.near", "Gone."): "Fort."}, read_by=None)

    assert _entries(came)["Gone."].translations == ("Weg.",)
    assert _entries(came)["Gone."].obsolete
