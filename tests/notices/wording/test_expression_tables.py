"""The shipped tables find every wording in every disguise, and nothing in what only looks like one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.assembly import expressions
from notices.campaign.shape import texts
from notices.wording.expression_tables import Hit, Law, Rule, hits, read_rules, read_words, table_of
from tests import catalogues
from tests.composing import LANGUAGES, demo
from tests.expressions import INNOCENT, found, planted, table, tags
from tests.stove import a_stove

# What a notice to the US has to say, and no other notice says (16 CFR 1115.27(m)).
_IN_THE_US = ("Failures and accidents", "Damage to property", "People injured", "People killed")


@pytest.mark.parametrize("tag", tags())
def test_every_concept_of_a_language_has_its_rule(tag: str) -> None:
    assert {form.concept for form in table(tag).forms} <= read_rules(expressions()["rules"]).keys()


@pytest.mark.parametrize("tag", tags())
def test_what_the_law_names_is_known_only_where_the_law_was_read(tag: str) -> None:
    named = {form.concept for form in table(tag).forms if form.named}
    risk = {"voluntary", "precautionary", "discretionary", "rare", "specific", "no-accidents"}

    assert named == (risk if table(tag).known == "read" else set())


@pytest.mark.property
@pytest.mark.parametrize("tag", tags())
@given(data=st.data())
def test_a_planted_wording_is_found_in_any_text(tag: str, data: st.DataObject) -> None:
    form, said = data.draw(planted(tag))
    around = data.draw(st.lists(st.sampled_from(INNOCENT[tag]), min_size=2, max_size=2))
    concepts = {(one.concept, one.named) for one in found(f"{around[0]} {said} {around[1]}", tag)}

    assert (form.concept, form.named) in concepts or (form.concept, True) in concepts


@pytest.mark.parametrize("tag", tags())
def test_nothing_is_found_in_innocent_sentences(tag: str) -> None:
    assert [(text, found(text, tag)) for text in INNOCENT[tag] if found(text, tag)] == []


@pytest.mark.parametrize("tag", LANGUAGES)
def test_no_sentence_of_ours_says_what_no_notice_says(tag: str) -> None:
    said = [
        (entry.line, found(text, tag))
        for entry in catalogues.held("notices", tag).entries
        for text in entry.translations
        if found(text, tag) and not entry.msgid.startswith(_IN_THE_US)
    ]

    assert said == []


@pytest.mark.parametrize("tag", LANGUAGES)
@pytest.mark.parametrize("revision", range(6))
def test_the_demos_words_hold_none(tag: str, revision: int) -> None:
    assert [one for _, text in texts(demo(revision, tag)) for one in found(text, tag)] == []


def test_the_stoves_words_hold_none() -> None:
    assert [one for _, text in texts(a_stove()) for one in found(text, "en")] == []


@pytest.mark.parametrize(
    ("tag", "text", "words"),
    [
        ("en", "A pre-cautionary recall.", "precautionary"),
        ("de", "Ein vor-sorglicher Tausch.", "vorsorglicher"),
        ("de", "Wir rufen FREIWILLIG zurück.", "FREIWILLIG"),
        ("de", "Es sind keine Unfaelle gemeldet.", "keine Unfaelle gemeldet"),
        ("en", "In rare\n  situations it breaks.", "In rare situations"),
        ("en", "A volun\N{SOFT HYPHEN}tary recall.", "voluntary"),
        ("de", "Bisher ist nichts passiert.", "Bisher ist nichts"),
        ("fr", "Jusqu'à présent, rien n'est arrivé.", "rien n'est arrivé"),
        ("es", "Hasta ahora no ha pasado nada.", "Hasta ahora no"),
        ("it", "Finora nessuno si è ferito.", "Finora nessuno"),
        ("nl", "Tot nu toe is er niets gebeurd.", "Tot nu toe is er niets"),
        ("pl", "Dotychczas nic się nie stało.", "Dotychczas nic"),
    ],
)
def test_a_wording_is_quoted_as_it_stands(tag: str, text: str, words: str) -> None:
    assert words in [one.words for one in found(text, tag)]


SMALL = """
language = "en"
known = "read"
[voluntary]
named = ["free"]
like = ["free of will"]
innocent = ["set free"]
"""


def test_what_the_law_names_goes_before_a_longer_synonym() -> None:
    assert hits("Free of will, set free, free", read_words(SMALL)) == (
        Hit(concept="voluntary", words="Free", named=True),
        Hit(concept="voluntary", words="free", named=True),
    )


def test_a_table_without_innocent_wordings_is_read() -> None:
    text = SMALL.replace('innocent = ["set free"]', "")

    assert [one.words for one in hits("set free", read_words(text))] == ["free"]


@pytest.mark.parametrize(
    ("tag", "text"),
    [("de-AT", "german"), ("de", "german"), ("zh", None), ("pt-BR", "brazilian"), ("pt", "pt")],
)
def test_a_region_is_served_by_its_language(tag: str, text: str | None) -> None:
    assert table_of({"de": "german", "pt": "pt", "pt-br": "brazilian"}, tag) == text


def test_every_law_of_the_markets_counts_where_all_say_the_same() -> None:
    europe, others = Law(market="EU", source="a"), Law(market="*", source="b")
    rule = Rule(
        kind="selling", what="", mend="", law=(europe, others), not_in=frozenset(), affected_only=False
    )

    assert rule.all_of(frozenset({"EU", "JP"})) == (europe,)
    assert rule.all_of(frozenset({"JP"})) == (others,)


def test_the_first_law_that_holds_in_a_market_counts() -> None:
    europe, others = Law(market="EU", source="a", must=True), Law(market="*", source="b")
    rule = Rule(
        kind="risk", what="", mend="", law=(europe, others), not_in=frozenset({"US"}), affected_only=False
    )

    assert rule.of(frozenset({"US", "EU"})) == europe
    assert rule.of(frozenset({"GB"})) == others
    assert rule.of(frozenset()) == others
    assert rule.of(frozenset({"US"})) is None
