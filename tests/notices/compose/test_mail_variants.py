"""What each variant of a mail says: every kind, verdict, use and language."""

import html as entities
import itertools
import json
import re
from collections import Counter

import pytest

from audiences.segments import Segment
from audiences.verdicts import SAFE, Verdict
from notices.compose.mail import fill
from notices.compose.variants import KINDS
from tests.composing import LANGUAGES, STOVE, campaign, catalogue, composed, demo, filled, key, owner, unit
from tests.composing import values as values_of

_BICYCLE = re.compile(
    r"\b(?:rid(?:e|es|ing|den|er)|bi?cycl\w*|bike\w*|wheels?|handlebar|steer\w*|brakes?|frame)\b",
    re.IGNORECASE,
)
_TAGS = re.compile(r"<style.*?</style>|<!--.*?-->|<title>.*?</title>|<[^>]+>", re.DOTALL)


def words(html: str) -> str:
    """Return the text of a page, entities of markup resolved."""
    bare = entities.unescape(_TAGS.sub(" ", html.replace("</bdi>", "</bdi>\u2060")))
    return " ".join(bare.replace(" \u2060", "").replace("\u26a0\ufe0e", "").split())


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("revision", [0, 1])
def test_no_placeholder_and_no_bare_sentence_reaches_a_reader(
    revision: int, kind: str, language: str
) -> None:
    of = demo(revision, language)
    said = catalogue(language).unsaid
    said.clear()
    left = []
    for verdict, segment in itertools.product(Verdict, Segment):
        found = composed(of, key(kind, verdict, segment, language))
        left += [str(finding) for finding in found.findings]
        for units in ((unit(),), (unit(None),), (unit(), unit(None, "AAAAAAA1"))):
            mail = fill(found.content, values_of(of, language, units=units))
            everything = mail.subject + mail.preheader + mail.html + mail.text
            left += re.findall(r"%\(|\)s|\[\[|\]\]|\[%|%\]|\bNone\b|Undefined", everything)

    assert left == []
    assert sorted(set(said)) == []


@pytest.mark.parametrize("verdict", [one for one in Verdict if one not in SAFE])
@pytest.mark.parametrize("kind", ["stop", "first", "remind"])
def test_hazard_and_first_action_stand_within_the_first_sixty_words(kind: str, verdict: Verdict) -> None:
    """Within 60 words: house standard for notices, after common practice, no source."""
    of = demo(0 if kind == "stop" else 1)
    text = filled(of, key(kind, verdict)).text
    if kind == "remind":
        text = text.partition("\n\n")[2]
    start = " ".join(text.split()[:60])

    assert of.now.headline is not None
    assert of.hazard.what is not None
    assert of.hazard.who is not None
    assert of.now.headline in start
    assert of.hazard.what in start
    assert of.hazard.who in start


def test_an_unknown_use_is_told_every_segments_promise_and_a_known_one_only_its_own() -> None:
    of = demo(1)
    assert of.remedies is not None
    repair = of.remedies["repair"]
    promises = {
        segment: found.promise
        for segment in Segment
        if (found := repair.for_segment(segment)) is not None and found.promise
    }
    unknown = words(filled(of, key()).html)
    own = {segment: words(filled(of, key(segment=segment)).html) for segment in promises}

    assert len(promises) == 3
    assert all(promise in unknown for promise in promises.values())
    for segment, mail in own.items():
        assert [one for one, promise in promises.items() if promise in mail] == [segment]


def test_a_promise_that_does_not_name_its_use_is_named_to_those_whose_use_is_unknown() -> None:
    text = STOVE.replace(
        "    all: {promise: We send a fitter.,",
        "    unridden: {promise: Swap it yourself.}\n    symptomatic: {promise: We send a fitter.,",
    )

    assert "Never lit: Swap it yourself." in words(filled(campaign(text), key()).html)
    assert "It smelled of gas: We send a fitter." in filled(campaign(text), key()).text


def test_steps_to_fit_it_oneself_reach_only_those_who_may_behind_the_qualified_person() -> None:
    of = demo(1)
    may = filled(of, key(segment=Segment.UNRIDDEN)).text
    offer = " ".join(may.split())

    assert offer.index("a qualified person does it") < offer.index("Undo both lock nuts")
    assert "torque wrench and spanner" in offer
    assert "It takes about 20 minutes." in offer
    assert "Keep a broken part. Do not clean or repair it." in offer
    for segment in (Segment.UNKNOWN, Segment.RIDDEN_NO_SYMPTOMS, Segment.SYMPTOMATIC):
        assert "Undo both lock nuts" not in filled(of, key(segment=segment)).text


def test_cautions_stand_where_a_promise_lets_an_owner_fit_something() -> None:
    of = demo(1)

    assert "A qualified bicycle mechanic does it" in words(filled(of, key()).html)
    assert "A qualified bicycle mechanic does it" not in words(
        filled(of, key(segment=Segment.SYMPTOMATIC)).html
    )


def test_a_cleared_owner_is_told_as_known_on_which_day_and_asked_for_nothing() -> None:
    mail = filled(demo(1), key(verdict=Verdict.CLEARED))
    html = words(mail.html)

    assert mail.subject == "Your Drayling 2: its code is not affected (product safety recall)"
    assert "As far as we know on 3 March 2026" in html
    assert "I have stopped" not in html
    assert "STOPPED" not in html
    assert "WARNING" not in html
    assert "Call 030" in html


def test_a_foreign_code_is_doubted_before_it_is_cleared() -> None:
    text = " ".join(filled(demo(1), key(verdict=Verdict.FOREIGN)).text.split())

    assert text.index("do not use it and contact us") < text.index("You may ride")


def test_a_missing_code_is_asked_for_and_an_unreadable_one_counts_as_affected() -> None:
    missing = filled(demo(1), key(verdict=Verdict.MISSING), units=(unit(None),)).text
    unreadable = filled(demo(1), key(verdict=Verdict.UNREADABLE), units=(unit("QM-25?4-B0172"),)).text

    assert "We do not have the code of your bicycle. Do not ride." in " ".join(missing.split())
    assert "it counts as affected" in " ".join(unreadable.split())


def test_the_headline_is_the_markets_own_and_a_stop_warnings_its_own() -> None:
    assert filled(demo(1), key(market="US")).text.startswith("Safety recall\n")
    assert filled(demo(1), key(market="EU")).text.startswith("Product safety recall\n")
    assert filled(demo(0), key("stop")).text.startswith("Important safety warning\n")


def test_a_stop_warning_promises_no_remedy_and_names_the_day_of_the_next_word() -> None:
    text = " ".join(filled(demo(0), key("stop")).text.split())

    assert "You will hear from us by 3 March. Until then: do not ride." in text
    assert "What you get" not in text


def test_a_reminder_is_the_notice_with_a_line_above_and_a_subject_of_its_own() -> None:
    first, again = filled(demo(1), key("first")), filled(demo(1), key("remind"))
    above, _, rest = again.text.partition("\n\n")

    assert rest == first.text
    assert "no answer yet" in above
    assert again.subject == f"Reminder: {first.subject}"
    assert (first.automatic, again.automatic) == (False, True)


def test_a_reminder_of_a_stop_warning_reminds_of_the_stop() -> None:
    first, again = filled(demo(0), key("stop")), filled(demo(0), key("remind"))

    assert again.text.partition("\n\n")[2] == first.text
    assert again.subject == f"Reminder: {first.subject}"


def test_a_correction_says_that_it_corrects() -> None:
    mail = filled(demo(1), key("correct"))

    assert mail.subject.startswith("Correction: ")
    assert "This corrects what we have told you before." in mail.text
    assert mail.automatic is False


@pytest.mark.parametrize(
    ("kind", "verdict", "revision", "begins"),
    [
        (
            "correct",
            Verdict.AFFECTED,
            2,
            "On bicycles that have been ridden, the ball joints can be damaged too.",
        ),
        ("correct-stop", Verdict.CLEARED, 3, "We told you that your bicycle was affected."),
        (
            "correct-safe",
            Verdict.AFFECTED,
            4,
            "We told you that your bicycle was not affected. That was wrong.",
        ),
        (
            "correct-parts",
            Verdict.AFFECTED,
            5,
            "The repair kit that we sent you, lot K3, holds a wrong lock nut.",
        ),
        ("correct-safe", Verdict.AFFECTED, 1, "We told you that yours was not affected. That was wrong."),
        (
            "correct-safe",
            Verdict.MISSING,
            4,
            "We told you that yours was not affected. We can no longer say so.",
        ),
        (
            "correct-safe",
            Verdict.UNREADABLE,
            4,
            "We told you that yours was not affected. We can no longer say so.",
        ),
        ("correct-stop", Verdict.CLEARED, 1, "We told you that yours was affected, or that it might be."),
        (
            "correct-parts",
            Verdict.AFFECTED,
            1,
            "There is a fault in what we sent you for the repair. Do not fit it.",
        ),
        ("correct", Verdict.CLEARED, 1, "This corrects what we have told you before."),
    ],
)
def test_a_correction_begins_with_what_was_said_and_what_holds_now(
    kind: str, verdict: Verdict, revision: int, begins: str
) -> None:
    mail = filled(demo(revision), key(kind, verdict))

    assert " ".join(mail.text.split()).startswith(begins)
    assert words(mail.html).removeprefix(mail.preheader).strip().startswith(begins)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", ["correct-safe", "correct-stop", "correct-parts"])
def test_the_first_words_of_a_correction_are_written_in_every_shipped_language(
    kind: str, language: str
) -> None:
    verdict = Verdict.CLEARED if kind == "correct-stop" else Verdict.AFFECTED
    ours = filled(demo(1, language), key(kind, verdict, language=language)).text.partition("\n\n")[0]
    theirs = filled(demo(5, language), key(kind, verdict, language=language)).text.partition("\n\n")[0]
    english = filled(demo(1), key(kind, verdict)).text.partition("\n\n")[0]

    assert len({ours, theirs}) == 2
    assert (ours == english) is (language == "en") or language == "en-US"


def test_the_ledger_says_what_is_known_what_is_not_and_when_the_next_word_comes() -> None:
    text = " ".join(filled(demo(1), key()).text.split())

    assert "What we know, 3 March 2026 Two links have broken." in text
    assert "We are checking: Which other batches the maker used." in text
    assert "We do not know yet how long such a link lasts." in text
    assert "We will write again by 10 March, even if there is nothing new." in text


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("verdict", list(Verdict))
@pytest.mark.parametrize("segment", list(Segment))
def test_a_stove_is_not_spoken_of_as_a_bicycle(kind: str, verdict: Verdict, segment: Segment) -> None:
    mail = filled(campaign(STOVE), key(kind, verdict, segment), units=(unit("E-1"),))

    assert _BICYCLE.findall(mail.subject + mail.text + words(mail.html)) == []
    assert "Emberfold S" in mail.text


@pytest.mark.parametrize("verdict", list(Verdict))
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("segment", [Segment.UNRIDDEN, Segment.UNKNOWN])
def test_html_and_plain_text_say_the_same(kind: str, verdict: Verdict, segment: Segment) -> None:
    of = demo(1)
    mail = fill(composed(of, key(kind, verdict, segment), {}).content, values_of(of))
    shown = words(mail.html).removeprefix(mail.preheader)
    marks = re.sub(r"^ *(?:\d+\. |- |\*\*\* )|^-+$|^https://.*$", "", mail.text, flags=re.MULTILINE)

    assert Counter(_bare(marks)) == Counter(_bare(shown))


def _bare(text: str) -> list[str]:
    return [word for word in re.sub(r"[^\w\s]", "", text.replace("\u00a0", " ")).split() if word]


def test_nothing_is_fetched_from_anywhere_when_a_mail_is_opened() -> None:
    html = filled(demo(1), key(segment=Segment.UNRIDDEN)).html
    sources = re.findall(r"""(?:src|background|poster|action)\s*=\s*["']?([^"'\s>]+)""", html)

    assert {source.partition(":")[0] for source in sources} == {"cid"}
    assert "@import" not in html
    assert "url(" not in html
    assert "<script" not in html
    assert "<link" not in html


def test_every_picture_has_words_in_its_place() -> None:
    html = filled(demo(1), key()).html
    images = re.findall(r"<img [^>]+>", html)

    assert len(images) == 2
    assert all(re.search(r'alt="[^"]+"', image) for image in images)


def test_a_right_to_left_mail_runs_right_to_left_and_keeps_codes_in_one_piece() -> None:
    mail = filled(demo(1, "ar"), key(language="ar"), owner(country="DE"))
    cells = re.findall(r"text-align:(left|right)", mail.html)

    assert '<html lang="ar" dir="rtl"' in mail.html
    assert "direction:ltr" not in mail.html
    assert cells.count("right") > 8
    assert '<bdi dir="ltr" style="' in mail.html
    assert "\u2066QM-2534-B····\u2069" in mail.text
    assert "\u2066030\u00a023125172\u2069" in mail.text
    assert "\u2066aldmere.example/drayling/7KQ2M4XD9R\u2069" in mail.text


def test_what_differs_between_owners_is_not_in_the_content() -> None:
    content = composed(demo(1), key()).content

    for value in ("QM-2534", "7KQ2M4X", "030 23125172", "0808", "3 March 2026", "10 March", "Ada Quell"):
        assert value not in content


def test_the_content_holds_just_what_the_fingerprint_is_made_of() -> None:
    content = json.loads(composed(demo(1), key()).content)

    assert sorted(content) == [
        "answers",
        "attachments",
        "channel",
        "from",
        "html",
        "kind",
        "language",
        "market",
        "pictures",
        "placeholders",
        "preheader",
        "reply_to",
        "segment",
        "subject",
        "text",
        "units",
        "verdict",
    ]
    assert content["from"] == {"name": "Aldmere Trading", "address": "safety@aldmere.example"}
    assert content["answers"] == "https://aldmere.example/drayling"
    assert {"units", "call", "link", "button", "day", "revision", "bulletin", "next_word"} <= set(
        content["placeholders"]
    )


def test_the_fingerprint_leaves_out_revision_number_day_and_telephone_and_nothing_else() -> None:
    of = demo(1)
    before = composed(of, key()).fingerprint
    later = of.model_copy(
        update={
            "revision": of.revision.model_copy(update={"number": 9}),
            "contacts": (),
            "hours": None,
        }
    )
    reworded = of.model_copy(update={"free": "You pay nothing at all."})
    renamed = of.model_copy(
        update={"issuer": of.issuer.model_copy(update={"email": "other@aldmere.example"})}
    )

    assert composed(later, key()).fingerprint == before
    assert composed(reworded, key()).fingerprint != before
    assert composed(renamed, key()).fingerprint != before
    assert composed(of, key(), {}).fingerprint != before


def test_several_units_share_one_mail_that_lists_them() -> None:
    mail = filled(demo(1), key(), units=(unit(), unit("QM-2535-B0007", "AAAAAAA1"), unit(None, "AAAAAAA2")))

    assert "- QM-2534-B···· (7KQ2M4X5)\n- QM-2535-B···· (AAAAAAA1)\n- code not known (AAAAAAA2)" in mail.text
    assert words(mail.html).count("QM-2535-B····") == 1


def test_values_never_hold_the_signs_that_the_owner_reads_off_the_unit() -> None:
    assert "0172" not in values_of(demo(1)).replace("8081570172", "").replace("23125172", "")
    assert "QM-2534-B····" in values_of(demo(1))


@pytest.mark.parametrize(
    ("sold", "told"),
    [
        ("{by: camping shops}", "Sold by camping shops\n"),
        ("{from: 2025-01}", "Sold January 2025\n"),
        ("{units: 5}", "Emberfold S camping stove\nCode in our records"),
    ],
)
def test_it_says_of_the_sale_what_is_known(sold: str, told: str) -> None:
    text = STOVE.replace("{by: camping shops, from: 2025-01, to: 2026-01}", sold)

    assert told in filled(campaign(text), key()).text


def test_work_that_only_the_owner_does_begins_with_a_way_out() -> None:
    text = STOVE.replace("[mechanic, owner]", "[owner]").replace(", minutes: {owner: 1}", "")
    mail = " ".join(filled(campaign(text), key(segment=Segment.UNRIDDEN)).text.split())

    assert "If anything is unclear, do not begin. Contact us. - Tools: valve key 1. Turn it." in mail
    assert "It takes about" not in mail


def test_a_remedy_without_a_promise_for_a_use_is_not_offered_to_it() -> None:
    text = STOVE.replace("    all: {promise: We send a fitter., by", "    unridden: {by")

    assert "A new valve" not in filled(campaign(text), key()).text
    assert "A new valve" not in filled(campaign(text), key(segment=Segment.UNRIDDEN)).text
    assert "A new valve" not in filled(campaign(text), key(segment=Segment.SYMPTOMATIC)).text


def test_work_without_tools_names_none() -> None:
    text = STOVE.replace("tools: [valve key], ", "")

    assert "Tools:" not in filled(campaign(text), key(segment=Segment.UNRIDDEN)).text


def test_a_sender_with_other_letters_in_its_domain_is_written_by_its_a_label() -> None:
    """RFC 5891; the value is that of the published example bücher.example."""
    of = demo(1)
    other = of.model_copy(update={"issuer": of.issuer.model_copy(update={"email": "a@bücher.example"})})
    odd = of.model_copy(update={"issuer": of.issuer.model_copy(update={"email": "no address"})})
    none = of.model_copy(update={"issuer": of.issuer.model_copy(update={"email": None})})

    assert filled(other, key()).from_address == "a@xn--bcher-kva.example"
    assert filled(odd, key()).from_address == "no address"
    assert filled(none, key()).reply_to == ""


@pytest.mark.parametrize(
    ("web", "first"),
    [
        (
            ", web: emberfold.example",
            "Open emberfold.example yourself: the same notice is on the first page. Or call",
        ),
        ("", "Call the number on your invoice."),
    ],
)
def test_how_to_know_it_is_genuine_begins_with_what_there_is(web: str, first: str) -> None:
    of = campaign(STOVE.replace(", web: emberfold.example", web))
    text = filled(of, key("first"), units=(unit("E-1"),)).text
    said = " ".join(text.partition("Is this message genuine?")[2].split()).replace("\u2060", "")

    assert said.startswith(first)
