"""What the fourteen questions take for an answer, and what campaign.yaml their answers make."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from audiences.findings import Finding, must_mend
from notices.campaign.answers import Answers, UnfitError, fill, is_asked, read
from notices.campaign.answers_file import from_toml, to_toml
from notices.campaign.asks import UNKNOWN
from notices.campaign.checks import check
from notices.campaign.first_draft import first_draft
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.needs import lacking
from notices.campaign.questions import ASKS, QUESTIONS
from tests.hostile import hostile_texts

TODAY = date(2026, 3, 2)
ASK = {ask.key: ask for ask in ASKS}
WHOLE: Mapping[str, tuple[str, ...]] = {
    "product": ("Halvard 40 ladder",),
    "issuer": ("Tarn & Oake",),
    "town": ("Mill Lane 4, Fellbrook",),
    "country": ("gb",),
    "role": ("dealer",),
    "learned": ("2026-02-27",),
    "fails": ("A rung can break",),
    "happens": ("You fall.",),
    "worst": ("killed",),
    "happened": ("A rung broke in a shop", "One person broke an arm"),
    "now": ("Stop using the ladder", "Lay it down flat"),
    "signs": ("a rung turns in its socket",),
    "units": ("code",),
    "codes": ("HV-2531-K041", "HV-2533-L077", "HV-2540-K129"),
    "layout": ("yes",),
    "affected": ("week 2530 to 2533, line K L", "line: L"),
    "code-where": ("Stamped on the left rail",),
    "sold": ("1,240",),
    "sold-from": ("2025-08",),
    "sold-to": ("2026-01",),
    "countries": ("GB, IE", "US"),
    "shops": ("Cooper Yard", "web shop"),
    "lists": ("till.xlsx",),
    "unsubscribed": ("no",),
    "promise": ("We are working on a new rung",),
    "next-word": ("2026-03-05",),
    "email": ("safety@tarn.example",),
    "phones": ("GB 020 7946 0991", "IE"),
    "sunday": ("Ada Orrin",),
    "signer": ("Ada Orrin",),
    "deputy": ("Bo Lund",),
    "shelf": ("no",),
    "web-shop": ("yes",),
    "hire": ("none",),
}


def answered(**changes: tuple[str, ...]) -> Answers:
    """Return the whole answers with some changed."""
    filled = fill({**WHOLE, **{key.replace("_", "-"): lines for key, lines in changes.items()}}, TODAY)
    assert filled.answers is not None, filled.findings
    return filled.answers


def drafted(answers: Answers) -> Campaign:
    """Return the campaign that the answers make."""
    loaded = load(first_draft(answers, TODAY))
    assert loaded.campaign is not None, loaded.findings
    return loaded.campaign


def to_do(answers: Answers) -> list[Finding]:
    """Return every finding of the draft that the answers make."""
    loaded = load(first_draft(answers, TODAY))
    assert loaded.campaign is not None, loaded.findings
    return [
        *loaded.findings,
        *check(loaded.campaign, loaded.lines, {}),
        *lacking(loaded.campaign, "proofs", loaded.lines),
    ]


def test_the_questions_are_fourteen_and_each_thing_asked_has_a_key_of_its_own() -> None:
    assert (len(QUESTIONS), len(ASK)) == (14, len(ASKS))


def test_a_whole_interview_is_a_stop_warning_of_which_nothing_must_be_mended() -> None:
    campaign = drafted(answered(affected=("week 2530-2533, line K L",)))

    assert must_mend(to_do(answered(affected=("week 2530-2533, line K L",)))) == []
    assert campaign.remedies is None
    assert campaign.issuer.model_dump(exclude_none=True, exclude_defaults=True) == {
        "name": "Tarn & Oake",
        "role": "dealer",
        "address": ("Mill Lane 4, Fellbrook",),
        "country": "GB",
        "email": "safety@tarn.example",
    }
    assert campaign.hazard.model_dump(exclude_none=True, exclude_defaults=True) == {
        "signal": "WARNING",
        "what": "A rung can break.",
        "who": "You fall. People can be killed or badly hurt.",
        "without_sign": "It can happen with no sign beforehand.",
        "signs": ("a rung turns in its socket",),
    }
    assert campaign.now.headline == "Stop using the ladder."
    assert campaign.now.steps.all[:2] == ("Stop using the ladder.", "Lay it down flat.")
    assert [(contact.countries, contact.phone, contact.call_back) for contact in campaign.contacts] == [
        (("GB",), "+442079460991", False),
        (("IE",), None, True),
    ]
    assert {key: (one.countries, one.headline) for key, one in campaign.markets.items()} == {
        "GB": (("GB",), "Product safety recall"),
        "EU": (("IE",), "Product safety recall"),
        "US": (("US",), "Safety recall"),
    }
    assert campaign.sale_stop.places == ("our own shelf", "web shop", "Cooper Yard")
    assert (campaign.next_word, campaign.revision.day) == (date(2026, 3, 5), TODAY)
    assert [(rule.rule, rule.conditions) for rule in campaign.affected] == [
        ("rule-1", {"week": ("2530", "2533"), "line": ("K", "L")})
    ]
    assert [(fact.standing, fact.text) for fact in campaign.ledger if not fact.inside] == [
        ("known", "We learned that this can happen: A rung can break."),
        ("known", "A rung broke in a shop."),
        ("known", "One person broke an arm."),
    ]
    assert [fact.about for fact in campaign.ledger if fact.inside] == ["owners", "sale_stop"]


@pytest.mark.parametrize(
    ("key", "about"),
    [
        ("codes", "code.layout"),
        ("layout", "code.layout"),
        ("units", "affected"),
        ("affected", "affected"),
        ("promise", "before_remedy"),
    ],
)
def test_no_code_rule_or_remedy_holds_a_stop_warning_back(key: str, about: str) -> None:
    found = to_do(answered(**{key: (UNKNOWN,)}))

    assert must_mend(found) == []
    assert about in [finding.path for finding in found if finding.code == "fact-open"]


@pytest.mark.parametrize("key", [key for key in ASK if key not in {"next-word", "sold-first", "sold-last"}])
def test_what_is_not_yet_known_is_a_fact_and_a_line_of_the_check(key: str) -> None:
    answers = answered(**{key: (UNKNOWN,)})
    campaign = drafted(answers)
    fact = next(fact for fact in campaign.ledger if fact.text == ASK[key].unknown)

    assert (fact.standing, fact.about, bool(fact.inside)) == (
        "not_yet_known",
        ASK[key].about,
        ASK[key].inside,
    )
    assert f"not yet known: {ASK[key].unknown}" in [finding.message for finding in to_do(answers)]


def test_no_notice_goes_out_in_the_name_of_nobody() -> None:
    text = first_draft(answered(issuer=(UNKNOWN,)), TODAY).split("\n")
    (found,) = must_mend(to_do(answered(issuer=(UNKNOWN,))))

    assert (found.code, found.path) == ("fact-open", "issuer.name")
    assert found.line is not None
    assert "about: issuer.name" in text[found.line - 1]


@pytest.mark.parametrize(
    "said", ["none", "No", "no accidents so far", "Nothing known.", "nobody was hurt", "0 incidents", "-"]
)
def test_not_known_to_have_happened_is_never_none(said: str) -> None:
    facts = [
        (fact.standing, fact.text) for fact in drafted(answered(happened=(said,))).ledger if not fact.inside
    ]

    assert facts == [
        ("known", "We learned that this can happen: A rung can break."),
        ("not_yet_known", "whether anybody has been hurt"),
    ]


def test_an_incident_that_begins_with_no_is_kept() -> None:
    assert answered(happened=("No brake held and a rider fell",)).lines("happened") == (
        "No brake held and a rider fell",
    )


def test_how_bad_it_can_get_is_never_played_down() -> None:
    said = {
        worst: drafted(answered(worst=(worst,))).hazard for worst in ("killed", "badly", "slightly", UNKNOWN)
    }

    assert {worst: hazard.signal for worst, hazard in said.items()} == {
        "killed": "WARNING",
        "badly": "WARNING",
        "slightly": "CAUTION",
        UNKNOWN: "WARNING",
    }
    assert said[UNKNOWN].who == "You fall. People can be badly hurt. How badly is not yet known."


def test_units_by_day_of_sale_are_a_rule_of_days() -> None:
    answers = answered(
        units=("day",), sold_first=("2025-09-01",), sold_last=("2025-10-31",), codes=(UNKNOWN,)
    )
    (rule,) = drafted(answers).affected

    assert (rule.sold, rule.conditions) == ((date(2025, 9, 1), date(2025, 10, 31)), {})
    assert must_mend(to_do(answers)) == []


@pytest.mark.parametrize(
    "line", ["batch 7", "week 2599-2600", "K", "week 2540-2530", "line Ü", "sign 4", "line K\n?"]
)
def test_a_rule_that_does_not_fit_the_layout_clears_nobody(line: str) -> None:
    answers = answered(affected=tuple(line.split("\n")))

    assert drafted(answers).affected == ()
    assert "not yet known: which codes are affected" in [finding.message for finding in to_do(answers)]


def test_days_of_sale_that_are_turned_round_clear_nobody() -> None:
    answers = answered(units=("day",), sold_first=("2025-10-31",), sold_last=("2025-09-01",))
    found = to_do(answers)

    assert (drafted(answers).affected, must_mend(found)) == ((), [])
    assert "not yet known: from which day on affected units were sold" in [
        finding.message for finding in found
    ]


def test_a_layout_that_was_not_confirmed_is_left_out() -> None:
    code = drafted(answered(layout=("no",))).code

    assert code is not None
    assert (code.layout, code.where) == ((), "Stamped on the left rail")


def test_everything_unknown_still_stops_the_sale_and_says_what_is_missing() -> None:
    filled = fill({ask.key: (UNKNOWN,) for ask in ASKS}, TODAY)
    assert filled.answers is not None
    found = to_do(filled.answers)

    assert {finding.code for finding in must_mend(found)} == {
        "hazard-missing",
        "contact-missing",
        "fact-open",
    }
    assert drafted(filled.answers).now.headline == "Stop using it now."


def test_an_unanswered_next_word_is_five_days_on_and_never_over_seven() -> None:
    assert fill({}, TODAY).answers is not None
    assert read(ASK["next-word"], (), TODAY) == date(2026, 3, 7)
    assert read(ASK["next-word"], ("?",), TODAY) == date(2026, 3, 7)
    assert read(ASK["next-word"], ("2026-03-09",), TODAY) == date(2026, 3, 9)
    with pytest.raises(UnfitError, match="2026-03-09 at the latest"):
        read(ASK["next-word"], ("2026-03-10",), TODAY)
    with pytest.raises(UnfitError, match="after today"):
        read(ASK["next-word"], ("2026-03-02",), TODAY)


@pytest.mark.parametrize(
    ("key", "typed", "complaint"),
    [
        ("product", (), "write an answer, or \\?"),
        ("product", ("\u202e \x00",), "write an answer, or \\?"),
        ("product", ("A", "B"), "on one line"),
        ("fails", ("x" * 10_240,), "10240 signs; 600 are the most"),
        ("now", ("x",) * 41, "41 lines; 40 are the most"),
        ("role", ("owner",), "maker, importer, dealer"),
        ("shelf", ("n",), "yes, no, none"),
        ("country", ("Ireland",), "two letters"),
        ("countries", ("GB", "Ireland"), "two letters"),
        ("learned", ("2.3.2026",), "as 2026-03-02"),
        ("learned", ("2026-02-30",), "as 2026-03-02"),
        ("learned", ("2026-03-03",), "still to come"),
        ("sold", ("many",), "whole number"),
        ("sold", ("9" * 14,), "whole number"),
        ("sold", ("2000000000000",), "whole number"),
        ("sold-from", ("2025-13",), "as 2025-03"),
        ("email", ("nobody",), "no usable e-mail address"),
        ("phones", ("GB 12",), "no usable telephone number"),
        ("phones", ("call us",), "two letters|no usable"),
        ("codes", ("A1", "A2"), "2 codes show too little"),
        ("codes", ("A1", "A1", "A1"), "1 codes show too little"),
    ],
)
def test_an_unfit_answer_says_what_would_fit(key: str, typed: tuple[str, ...], complaint: str) -> None:
    with pytest.raises(UnfitError, match=complaint):
        read(ASK[key], typed, TODAY)


def test_answers_are_read_as_people_type_them() -> None:
    assert read(ASK["role"], (" M",), TODAY) == "maker"
    assert read(ASK["shelf"], ("no",), TODAY) == "no"
    assert read(ASK["country"], ("uk",), TODAY) == "GB"
    assert read(ASK["countries"], ("gb ie,pl", "IE"), TODAY) == ("GB", "IE", "PL")
    assert read(ASK["phones"], ("IE",), TODAY) == ("IE",)
    assert read(ASK["sold"], ("1 240",), TODAY) == 1240
    assert read(ASK["signs"], ("Nothing, it can fail with no sign",), TODAY) == ()
    assert read(ASK["signs"], (), TODAY) == ()
    assert read(ASK["units"], (), TODAY) == "all"


def test_days_of_sale_are_asked_only_where_they_decide() -> None:
    asked = {
        units: [ask.key for ask in ASKS if is_asked(ask, {"units": units})]
        for units in ("all", "day", "code")
    }

    assert ("sold-first" in asked["all"], "sold-first" in asked["day"], "affected" in asked["code"]) == (
        False,
        True,
        True,
    )
    assert "layout" not in asked["code"]
    assert is_asked(ASK["layout"], {"codes": ("A1", "A2", "A3")})


def test_the_file_of_answers_reads_back_what_was_written() -> None:
    kept = from_toml(to_toml(WHOLE))

    assert (kept.given, kept.findings) == (WHOLE, ())


def test_what_is_wrong_with_a_file_of_answers_names_its_line() -> None:
    unread = from_toml('product = "A"\nissuer = \n')
    stray = from_toml('product = "A"\ncolour = "red"\nfails = {a = 1}\n')
    unfit = fill(from_toml('product = "A"\n\nlearned = "soon"\n').given, TODAY, {"learned": 3})

    assert [(one.code, one.line) for one in unread.findings] == [("answers-not-toml", 2)]
    assert [(one.code, one.line) for one in stray.findings] == [("answer-form", 2), ("answer-form", 3)]
    assert [(one.code, one.line, one.path) for one in unfit.findings] == [("answer-unfit", 3, "learned")]
    assert stray.lines == {"product": 1, "colour": 2, "fails": 3}


def test_a_file_without_line_numbers_in_its_fault_is_refused_all_the_same() -> None:
    (found,) = from_toml("a = " + "[" * 100_000).findings

    assert found.code == "answers-not-toml"


_LINES = st.lists(st.one_of(hostile_texts(), st.sampled_from(("?", ""))), max_size=3)


@pytest.mark.property
@settings(deadline=None, max_examples=40)
@given(st.fixed_dictionaries({}, optional={key: _LINES for key in ASK if ASK[key].kind != "next_word"}))
def test_no_answer_breaks_out_of_its_place(typed: dict[str, list[str]]) -> None:
    kept = from_toml(to_toml(typed))
    twice = from_toml(to_toml(kept.given))
    fit = {key: lines for key, lines in kept.given.items() if _fits(key, lines)}
    filled = fill({**WHOLE, **fit}, TODAY)
    assert filled.answers is not None
    names = {"issuer", "product", "fails", "happens", "email", "phones"}
    nameless = [key for key in names if filled.answers[key] is None]
    campaign = drafted(filled.answers)

    assert kept.findings == ()
    assert twice == kept
    assert nameless or must_mend(to_do(filled.answers)) == []
    assert campaign.remedies is None
    assert campaign.product.name == (filled.answers["product"] or "Your product")
    assert campaign.issuer.name == (filled.answers["issuer"] or "Your firm")
    assert campaign.next_word is not None
    assert campaign.next_word - TODAY <= timedelta(days=7)


def _fits(key: str, lines: Sequence[str]) -> bool:
    try:
        read(ASK[key], lines, TODAY)
    except UnfitError:
        return False
    return True
