"""What owners read of the lead's words, language by language."""

from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.wording.checks import check
from notices.wording.passages import Passage, Reading, lines_of
from tests.stove import WHOLE, a_stove, changed

GERMAN = """
msgid ""
msgstr "Language: de\\n"

msgctxt "hazard.what"
msgid "The valve can leak."
msgstr "Das Ventil kann undicht sein."

msgctxt "ledger.text"
msgid "We look for the cause."
msgstr "Wir suchen die Ursache."

#~ msgctxt "hazard.what"
#~ msgid "It leaks."
#~ msgstr "Es leckt."
"""


def _loaded(text: str) -> tuple[Campaign, dict[str, int]]:
    loaded = load(text)
    assert loaded.campaign is not None
    return loaded.campaign, dict(loaded.lines)


def _small() -> Reading:
    campaign, lines = _loaded(
        "issuer: {name: Fellbrook}\n"
        "product: {name: Emberling}\n"
        "hazard:\n"
        "  what: The valve can leak.\n"
        "ledger:\n"
        "  - {standing: known, inside: true, text: Batch 7 came late.}\n"
        "  - {standing: being_checked, text: We look for the cause.}\n"
    )
    translation = {("hazard.what", "The valve can leak."): "Das Ventil kann undicht sein."}
    return Reading(
        campaign=campaign, lines=lines, translations={"de": translation}, lines_of={"de": lines_of(GERMAN)}
    )


def test_each_text_stands_in_each_language_with_its_file_and_line() -> None:
    read = [one for one in _small().passages() if one.path in {"hazard.what", "ledger[1].text"}]

    assert read == [
        Passage(path="hazard.what", text="The valve can leak.", language="en", line=4),
        Passage(path="ledger[1].text", text="We look for the cause.", language="en", line=7),
        Passage(
            path="hazard.what",
            text="Das Ventil kann undicht sein.",
            language="de",
            file="translations/de.po",
            line=6,
        ),
    ]


def test_what_only_the_firm_knows_is_no_passage() -> None:
    assert all("Batch 7" not in one.text for one in _small().passages())


def test_a_text_without_a_translation_is_found_in_the_source() -> None:
    reading = _small()

    assert reading.at("hazard.what", "de") == {
        "file": "translations/de.po",
        "line": 6,
        "path": "hazard.what",
    }
    assert reading.at("ledger[1].text", "de")["file"] == "campaign.yaml"
    assert reading.at("hazard.what")["line"] == 4


def test_a_campaign_speaks_each_of_its_languages() -> None:
    reading = _small()

    assert reading.languages == ("en", "de")
    assert reading.speaking("de").hazard.what == "Das Ventil kann undicht sein."
    assert reading.speaking("en").hazard.what == "The valve can leak."
    assert reading.speaking("fr").hazard.what == "The valve can leak."


def test_a_stop_warning_is_read_without_what_it_does_not_say() -> None:
    recall = Reading(campaign=a_stove())
    start = WHOLE.index("\nremedies:")
    warning = Reading(campaign=a_stove((WHOLE[start : WHOLE.index("\nfree:")], "\n")))

    left_out = {one.path for one in recall.passages()} - {one.path for one in warning.passages()}

    assert warning.warning
    assert not recall.warning
    assert {"subjects.first", "free", "cautions[0]", "now.cleared", "use.question"} <= left_out
    assert {"subjects.stop", "hazard.what", "now.steps.all[0]", "before_remedy"}.isdisjoint(left_out)


def test_findings_of_the_words_stand_in_the_order_of_the_files() -> None:
    found = check(Reading(campaign=_loaded(changed())[0]))

    assert list(found) == sorted(found, key=lambda one: (one.file, one.line or 0, one.path))
