"""A translation goes out to whoever writes it and comes back, each text held against its source."""

import pytest

from tests.commands import Desk

ENTRY = 'msgctxt "now.headline"\nmsgid "{source}"\nmsgstr "{text}"\n'


@pytest.fixture
def headline(desk: Desk) -> str:
    """Return the source text of the headline."""
    text = (desk.folder / "translations/de.po").read_text("utf-8")
    return text.partition('msgctxt "now.headline"\nmsgid "')[2].partition('"\n')[0]


def test_a_language_is_exported_with_what_helps_to_translate_it(desk: Desk) -> None:
    said = desk.type("translations", "export", "de")
    text = (desk.folder / "translations/de.po").read_text("utf-8")

    assert said.status == 0
    assert said.out.startswith("translations/de.po: ")
    assert said.out.endswith(" texts translated.\n")
    assert "#. subjects.stop: the subject line of a mail\n#. at most 120 signs\n" in text
    assert "#. term: hurt = verletzt; not: Zwischenfall\n" in text
    assert desk.type("translations", "export", "de").out == said.out
    assert (desk.folder / "translations/de.po").read_text("utf-8") == text


def test_a_new_language_is_exported_empty_and_says_what_comes_next(desk: Desk) -> None:
    said = desk.type("translations", "export", "cs")

    assert said.status == 0
    assert said.out.splitlines()[0].startswith("translations/cs.po: 0 of ")
    assert said.out.splitlines()[1] == "When it is filled in: notices check"


def test_xliff_goes_out_and_comes_back(desk: Desk) -> None:
    out = desk.type("translations", "export", "de", "--xliff", "--format", "json")
    file = desk.folder / "out/translations/de.xlf"
    file.write_text(file.read_text("utf-8").replace("Fahren Sie", "Bitte fahren Sie", 1), "utf-8")
    back = desk.type("translations", "import", str(file), "--yes", "--format", "json")

    assert out.json["file"] == "out/translations/de.xlf"
    assert (back.status, back.json["new"], back.json["changed"], back.json["refused"]) == (0, 0, 1, 0)
    assert "Bitte fahren Sie" in (desk.folder / "translations/de.po").read_text("utf-8")


def test_one_text_with_a_fault_stays_as_it_was_and_the_others_are_taken_in(desk: Desk, headline: str) -> None:
    po = (desk.folder / "translations/de.po").read_text("utf-8")
    held = po.partition(headline + '"\nmsgstr "')[2].partition('"')[0]
    came = po.replace(held, "Halt, nicht mehr fahren.").replace("Sie selbst, ein Kind", "Sie, ein Kind")
    said = desk.type("translations", "import", str(desk.write("back.po", "\ufeff" + came)), "--yes")
    now = (desk.folder / "translations/de.po").read_text("utf-8")

    assert said.status == 1
    assert "must mend [translation-number] now.headline" in said.out
    assert "0 new, 1 changed, 1 refused.\n" in said.out
    assert held in now
    assert "Halt, nicht mehr fahren." not in now
    assert "Sie, ein Kind im Kasten" in now


def test_nothing_is_taken_in_that_nobody_answers_yes_to(desk: Desk) -> None:
    before = (desk.folder / "translations/de.po").read_bytes()
    said = desk.type("translations", "import", "translations/de.po", answer="n\n")

    assert said.status == 1
    assert (desk.folder / "translations/de.po").read_bytes() == before


def test_a_language_that_is_not_promised_can_be_taken_in_and_the_lead_is_told(
    desk: Desk, headline: str
) -> None:
    file = desk.write("cs.po", ENTRY.format(source=headline, text="Přestaňte jezdit na Drayling 2."))
    said = desk.type("translations", "import", str(file), "--language", "cs", "--yes")

    assert said.status == 0
    assert said.out.endswith("Owners get it once languages.written in campaign.yaml lists cs.\n")
    assert "Přestaňte jezdit na Drayling 2." in (desk.folder / "translations/cs.po").read_text("utf-8")


@pytest.mark.parametrize(
    ("text", "words", "expected"),
    [
        (
            'msgid ""\nmsgstr "Language: de\\n"\n\nmsgctxt "a"\nmsgid "b"\nmsgstr "c"\n',
            (),
            "back:1: must mend [translation-foreign] none of its 1 texts is a text of this campaign",
        ),
        (
            'msgid ""\nmsgstr "Language: fr\\n"\n\n' + ENTRY.format(source="x", text="y"),
            ("--language", "de"),
            (
                "back:1: must mend [translation-other-language] the file says that it is in fr, "
                "but it stands in the place of de"
            ),
        ),
        (
            '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>',
            ("--language", "de"),
            "back:1: must mend [translation-unreadable] a document type (DOCTYPE) may not stand in it",
        ),
    ],
)
def test_a_file_that_is_no_translation_of_this_is_refused_whole(
    desk: Desk, text: str, words: tuple[str, ...], expected: str
) -> None:
    before = (desk.folder / "translations/de.po").read_bytes()
    said = desk.type("translations", "import", str(desk.write("back", text)), "--yes", *words)

    assert said.status == 1
    assert expected in said.out.splitlines()
    assert said.out.splitlines()[-1] == "Nothing of it was taken in."
    assert (desk.folder / "translations/de.po").read_bytes() == before


def test_a_file_that_is_not_utf8_is_neither_taken_in_nor_written_over(desk: Desk) -> None:
    latin = 'msgid ""\nmsgstr "Language: de\\n"\n\nmsgctxt "a"\nmsgid "b"\nmsgstr "\xfc"\n'.encode("latin-1")
    (desk.folder / "back.po").write_bytes(latin)
    came = desk.type("translations", "import", "back.po", "--language", "de", "--yes", "--format", "json")
    (desk.folder / "translations/de.po").write_bytes(latin)
    out = desk.type("translations", "export", "de")
    back = desk.type("translations", "import", "back.po", "--language", "de", "--yes")

    assert [(one["code"], one["line"]) for one in came.json["findings"]] == [("translation-not-utf8", 6)]
    assert (came.status, out.status, back.status) == (1, 1, 2)
    assert out.out.splitlines()[0] == (
        "translations/de.po:6: must mend [translation-not-utf8] this line holds bytes that are not UTF-8"
    )
    assert out.out.splitlines()[-1] == "Nothing was written; mend that first."
    assert (desk.folder / "translations/de.po").read_bytes() == latin


def test_words_that_are_checked_in_a_campaign_are_checked_in_what_comes_in(desk: Desk, headline: str) -> None:
    long = (
        "Nur vorsorglich: Halten Sie Ihr Drayling 2 an, "
        + "und dann noch einmal und noch einmal, " * 4
        + "bitte."
    )
    file = desk.write("back.po", ENTRY.format(source=headline, text=long))
    said = desk.type("translations", "import", str(file), "--language", "de", "--yes")

    assert any(line.startswith("back.po:2: consider [sentence-long]") for line in said.out.splitlines())
    assert any(
        line.startswith("back.po:2: consider [expression-forbidden]") for line in said.out.splitlines()
    )


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("export", "en"), "notices: en is the language of campaign.yaml itself\n"),
        (("export", "../de"), "notices: a language is given by its tag (BCP 47): de, pt-BR, zh-Hant\n"),
        (("import", "nowhere.po"), "notices: nowhere.po is no file\n"),
        (
            ("import", "plain.po"),
            "notices: plain.po does not say in which language it is; give --language TAG\n",
        ),
        (("import", "large.po"), "notices: large.po has more than 4 MB, which no campaign's wording has\n"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(desk: Desk, words: tuple[str, ...], expected: str) -> None:
    desk.write("plain.po", ENTRY.format(source="a", text="b"))
    desk.write("large.po", "#" * 4_000_001)
    said = desk.type("translations", *words)

    assert (said.status, said.err) == (2, expected)


def test_without_a_campaign_that_can_be_read_nothing_is_written(desk: Desk) -> None:
    desk.write("campaign.yaml", "schema: [\n")
    out = desk.type("translations", "export", "de", "--format", "json")
    back = desk.type("translations", "import", "translations/de.po", "--yes")

    assert (out.status, [one["code"] for one in out.json["findings"]]) == (1, ["yaml-syntax"])
    assert back.err == "notices: campaign.yaml cannot be read; notices check says why\n"
