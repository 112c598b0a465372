"""The lead's wording in other languages: what is current, what is wrong with it, and what is kept."""

import pytest

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.texts import localise, translatable
from notices.wording import po
from notices.wording.translation_files import write_po
from notices.wording.translations import read_po

FILE = "translations/de.po"
YAML = """
schema: 1
issuer: {name: Aldmere Trading}
product: {name: Drayling 2}
hazard: {what: The steering link can break.}
now:
  headline: Stop riding your bicycle now.
  steps:
    all:
      - Lock it.
      - Tell us by %(next_word)s.
languages: {written: [en, de], default: en}
"""
HEAD = 'msgid ""\nmsgstr "Language: de\\n"\n\n'
WHAT = (
    'msgctxt "hazard.what"\nmsgid "The steering link can break."\nmsgstr "Das Lenkgestänge kann brechen."\n\n'
)
HEADLINE = (
    'msgctxt "now.headline"\nmsgid "Stop riding your bicycle now."\n'
    'msgstr "Fahren Sie ab sofort nicht mehr."\n\n'
)
LOCK = 'msgctxt "now.steps.all"\nmsgid "Lock it."\nmsgstr "Schließen Sie es ab."\n\n'
TELL = (
    'msgctxt "now.steps.all"\nmsgid "Tell us by %(next_word)s."\n'
    'msgstr "Melden Sie sich spätestens am %(next_word)s."\n'
)
NOTHING = (
    "translations/de.po: must mend [translation-missing] none of the campaign's 4 texts is written in Deutsch"
)
MISSING = (
    'translations/de.po: must mend [translation-missing] now.steps.all: "Lock it." is not written in Deutsch'
)
WHOLE = HEAD + WHAT + HEADLINE + LOCK + TELL


def _campaign(text: str = YAML) -> Campaign:
    loaded = load(text)
    assert loaded.campaign is not None
    return loaded.campaign


def _findings(po_text: str, tag: str = "de") -> list[str]:
    return [str(finding) for finding in read_po(po_text, tag, _campaign(), FILE)[1]]


def test_a_whole_translation_says_every_text_and_is_found_without_fault() -> None:
    campaign = _campaign()
    translation, findings = read_po(WHOLE, "de", campaign, FILE)

    assert findings == ()
    assert list(translation) == list(translatable(campaign))
    assert localise(campaign, translation).now.steps.all == (
        "Schließen Sie es ab.",
        "Melden Sie sich spätestens am %(next_word)s.",
    )


@pytest.mark.parametrize(
    ("po_text", "expected"),
    [
        (
            WHOLE.replace("Schließen Sie es ab.", " "),
            (
                "translations/de.po:13: must mend [translation-missing] now.steps.all: "
                '"Lock it." is not written in Deutsch'
            ),
        ),
        (
            WHOLE.replace(LOCK, ""),
            (
                "translations/de.po: must mend [translation-missing] now.steps.all: "
                '"Lock it." is not written in Deutsch'
            ),
        ),
        (
            WHOLE.replace('msgctxt "hazard', '#, fuzzy\n#| msgid "It can break."\nmsgctxt "hazard'),
            (
                "translations/de.po:7: must mend [translation-fuzzy] hazard.what: "
                'reworded to "The steering link can break."; the translation has not been looked at since'
            ),
        ),
        (
            WHOLE.replace("am %(next_word)s", "bald, zu 100 %"),
            (
                "translations/de.po:17: must mend [translation-placeholders] now.steps.all: "
                "the source has %(next_word)s, the translation no placeholder"
            ),
        ),
        (
            WHOLE.replace("am %(next_word)s", "am %(nextword)s"),
            (
                "translations/de.po:17: must mend [translation-placeholders] now.steps.all: "
                "the source has %(next_word)s, the translation %(nextword)s"
            ),
        ),
        (
            WHOLE.replace("kann brechen", "kann \u202ebrechen"),
            (
                "translations/de.po:5: must mend [translation-hidden-sign] hazard.what: "
                "the translation holds U+202E, which no reader can see"
            ),
        ),
        (
            WHOLE.replace("kann brechen", "kann \x00 brechen"),
            (
                "translations/de.po:5: must mend [translation-hidden-sign] hazard.what: "
                "the translation holds U+0000, which no reader can see"
            ),
        ),
        (
            WHOLE.replace("kann brechen", "kann \udce9 brechen"),
            (
                "translations/de.po:5: must mend [translation-hidden-sign] hazard.what: "
                "the translation holds U+DCE9, which no reader can see"
            ),
        ),
        (
            WHOLE.replace("kann brechen", "\u2066kann brechen"),
            (
                "translations/de.po:5: must mend [translation-hidden-sign] hazard.what: "
                "the translation holds an isolate without its end, U+2069, which no reader can see"
            ),
        ),
        (
            WHOLE.replace("kann brechen", "\u2069kann\u2066 brechen"),
            (
                "translations/de.po:5: must mend [translation-hidden-sign] hazard.what: "
                "the translation holds U+2069 without its beginning, which no reader can see"
            ),
        ),
        (
            WHOLE.replace("Fahren Sie ab sofort nicht mehr.", "Stop riding your bicycle now."),
            "translations/de.po:9: consider [translation-same] now.headline: the translation is the source text",
        ),
        (
            WHOLE.replace("Language: de", "Language: ar"),
            (
                "translations/de.po:1: must mend [translation-other-language] "
                "the file says that it is in ar, but it stands in the place of de"
            ),
        ),
        (
            WHOLE.replace("Language: de\\n", "Language: de\\nX-Read-By: nobody\\n"),
            (
                "translations/de.po:1: consider [translation-unread] "
                "nobody who grew up with Deutsch has read this wording yet"
            ),
        ),
        (
            WHOLE + "\n" + LOCK.replace("Schließen Sie es ab", "Sperren Sie es ab"),
            (
                "translations/de.po:21: must mend [translation-twice] now.steps.all: "
                "this text stands already in line 13; the later one would be used"
            ),
        ),
        (
            WHOLE + '\nmsgctxt "now.near"\nmsgid "Look again."\nmsgstr "Sehen Sie noch einmal hin."\n',
            (
                "translations/de.po:21: consider [translation-obsolete] now.near: "
                'the campaign no longer says "Look again." there'
            ),
        ),
        (
            WHOLE + "\nmsgid Lock\n",
            (
                "translations/de.po:20: must mend [translation-unreadable] "
                'a line must be a keyword and a text in quotes, as msgstr "…"'
            ),
        ),
        (
            WHOLE.replace("Language: de\\n", "Language: de\\nPlural-Forms: nplurals=3; plural=0;\\n"),
            (
                "translations/de.po:1: consider [translation-plurals] "
                "Plural-Forms says nplurals=3; plural=0;, but Deutsch has 2 forms"
            ),
        ),
        (
            WHOLE.replace('"Lock it."\nmsgstr "', '"Lock it."\nmsgid_plural "Lock them."\nmsgstr[0] "'),
            (
                "translations/de.po:13: must mend [translation-counted] now.steps.all: "
                "the entry has plural forms, but a campaign's text is one sentence that is not counted"
            ),
        ),
        (
            WHOLE.replace(
                "Schließen Sie es ab.", "Schließen Sie es mit 2 Schlössern \ufeffab, <b>jetzt</b>."
            ),
            (
                "translations/de.po:13: must mend [translation-tag] now.steps.all: "
                "the translation holds the tag </b>, <b>, which an owner would read as it stands"
            ),
        ),
        (
            WHOLE.replace("ab sofort nicht mehr.", "nicht" + " mehr" * 25),
            (
                "translations/de.po:9: consider [translation-long] now.headline: "
                "the translation has 141 signs; after 120 much of it is not seen"
            ),
        ),
        ("\ufeff" + WHOLE.replace(LOCK, ""), MISSING),
        ("", NOTHING),
        (HEAD, NOTHING),
    ],
)
def test_each_fault_is_told_once_and_with_its_line(po_text: str, expected: str) -> None:
    assert [finding.splitlines()[0] for finding in _findings(po_text)] == [expected]


def test_what_must_be_mended_is_left_out_and_all_else_is_used() -> None:
    text = WHOLE.replace("kann brechen", "kann \x00 brechen").replace("am %(next_word)s", "bald")
    translation, findings = read_po(text, "de", _campaign(), FILE)

    assert [finding.code for finding in findings] == ["translation-hidden-sign", "translation-placeholders"]
    assert [path for path, _ in translation] == ["now.headline", "now.steps.all"]


def test_a_language_that_is_not_promised_is_not_asked_for() -> None:
    translation, findings = read_po("msgid x", "pl", _campaign(), "translations/pl.po")

    assert translation == {}
    assert [str(finding).splitlines()[0] for finding in findings] == [
        (
            "translations/pl.po: consider [translation-not-listed] "
            "languages.written does not list pl, so nobody gets this wording"
        )
    ]


def test_every_code_names_the_line_it_means() -> None:
    """A file that is not listed has no line to name; the finding says so by having none."""
    _, findings = read_po(WHOLE, "fr", _campaign(), FILE)

    assert [(finding.code, finding.line) for finding in findings] == [("translation-not-listed", None)]


def test_isolates_in_pairs_are_right_to_left_wording() -> None:
    text = WHOLE.replace("kann brechen", "\u2066QL\u2069 kann \u2067\u2068brechen\u2069\u2069")

    assert _findings(text) == []


def test_a_long_or_hostile_text_is_shown_short_and_harmless() -> None:
    text = WHOLE + '\nmsgctxt "a\\nb"\nmsgid "' + "<b>\u202e {{ x }} " * 9 + '"\nmsgstr "x"\n'
    finding = _findings(text)[0]

    assert "\u202e" not in finding
    assert "a\N{REPLACEMENT CHARACTER}b" in finding
    assert "…" in finding


def test_a_new_file_holds_every_text_in_the_order_of_the_campaign() -> None:
    text = write_po(_campaign(), "ar", None)
    found = po.read(text)

    assert [(entry.context, entry.msgid) for entry in found.entries] == list(translatable(_campaign()))
    assert found.headers["language"] == "ar"
    assert found.headers["x-read-by"] == "nobody"
    assert found.headers["plural-forms"].startswith("nplurals=6;")


def test_a_language_without_a_plural_rule_can_be_written_all_the_same() -> None:
    assert "plural-forms" not in po.read(write_po(_campaign(), "tlh", None)).headers


def test_written_again_a_file_stays_as_it_is() -> None:
    once = write_po(_campaign(), "de", WHOLE)

    assert write_po(_campaign(), "de", once) == once
    assert read_po(once, "de", _campaign(), FILE) == read_po(WHOLE, "de", _campaign(), FILE)


def _entry(text: str, msgid: str) -> po.Entry:
    return next(entry for entry in po.read(text).entries if entry.msgid == msgid)


def test_a_reworded_text_keeps_its_translation_as_fuzzy_with_the_text_it_was_made_for() -> None:
    reworded = _campaign(YAML.replace("Stop riding your bicycle now.", "Nobody may ride it."))
    entry = _entry(write_po(reworded, "de", WHOLE), "Nobody may ride it.")

    assert entry.fuzzy
    assert entry.previous == "Stop riding your bicycle now."
    assert entry.translations == ("Fahren Sie ab sofort nicht mehr.",)


def test_a_wording_that_comes_back_has_its_translation_back() -> None:
    reworded = _campaign(YAML.replace("Stop riding your bicycle now.", "Nobody may ride it."))
    between = write_po(reworded, "de", WHOLE)

    assert read_po(write_po(_campaign(), "de", between), "de", _campaign(), FILE)[1] == ()


def test_twice_reworded_the_first_text_is_what_the_translation_was_made_for() -> None:
    once = _campaign(YAML.replace("Stop riding your bicycle now.", "Nobody may ride it."))
    twice = _campaign(YAML.replace("Stop riding your bicycle now.", "Leave it where it is."))
    entry = _entry(write_po(twice, "de", write_po(once, "de", WHOLE)), "Leave it where it is.")

    assert entry.previous == "Stop riding your bicycle now."


def test_among_several_texts_of_one_place_only_a_likeness_is_taken_over() -> None:
    changed = _campaign(YAML.replace("- Lock it.", "- Lock it up.\n      - Wait for our van in the yard."))
    text = write_po(changed, "de", WHOLE)

    assert _entry(text, "Lock it up.").previous == "Lock it."
    assert _entry(text, "Wait for our van in the yard.") == po.Entry(
        msgid="Wait for our van in the yard.",
        context="now.steps.all",
        line=_entry(text, "Wait for our van in the yard.").line,
        translations=("",),
    )


def test_the_head_of_a_language_without_a_plural_rule_is_not_held_to_one() -> None:
    campaign = _campaign(YAML.replace("[en, de]", "[en, tlh]"))
    head = 'msgid ""\nmsgstr "Plural-Forms: nplurals=9; plural=0;\\n"\n\n'
    _, findings = read_po(head + WHAT, "tlh", campaign, "translations/tlh.po")

    assert {finding.code for finding in findings} == {"translation-missing"}


def test_what_is_gone_is_kept_as_obsolete_and_taken_up_again() -> None:
    without = _campaign(YAML.replace("hazard: {what: The steering link can break.}\n", ""))
    text = write_po(without, "de", WHOLE)

    assert _entry(text, "The steering link can break.").obsolete
    assert read_po(text, "de", without, FILE)[1] == ()
    assert read_po(write_po(_campaign(), "de", text), "de", _campaign(), FILE)[1] == ()


def test_a_file_keeps_its_own_head() -> None:
    text = write_po(
        _campaign(), "de", "# our own note\n" + WHOLE.replace("de\\n", "de\\nX-Read-By: A. N.\\n")
    )

    assert text.startswith("# our own note\n")
    assert po.read(text).headers["x-read-by"] == "A. N."


def test_the_same_language_of_another_region_may_say_the_same() -> None:
    campaign = _campaign(YAML.replace("[en, de]", "[en, en-US]"))
    head = HEAD.replace("de", "en-US")
    same = "".join(
        f'msgctxt "{path}"\nmsgid "{text}"\nmsgstr "{text}"\n\n' for path, text in translatable(campaign)
    )

    translation, findings = read_po(head + same, "en-US", campaign, "translations/en-US.po")

    assert findings == ()
    assert len(translation) == 4
