"""What helps to translate a text: where it stands, its limit, its placeholders and its terms."""

from notices.wording.places import Term, limit, notes

TERMS = (
    Term(english="recall", term="Rückruf", avoid="Aktion", note="Artikel 36"),
    Term(english="free of charge", term="kostenlos"),
    Term(english="hurt", term="verletzt"),
)


def test_a_note_says_what_the_text_is_its_limit_its_placeholders_and_its_terms() -> None:
    found = list(
        notes("subjects.stop", "Recall by %(day)s, free of charge", TERMS, {"day": "the revision's day"})
    )

    assert found == [
        "subjects.stop: the subject line of a mail",
        "at most 120 signs",
        "%(day)s: the revision's day; keep it as it is",
        "term: recall = Rückruf; not: Aktion (Artikel 36)",
        "term: free of charge = kostenlos",
    ]


def test_a_term_is_a_whole_word() -> None:
    assert list(notes("hazard.what", "Recalled.", TERMS, {})) == [
        "hazard.what: what can happen, and to whom; never played down"
    ]


def test_a_placeholder_that_no_table_names_is_said_to_be_filled_in() -> None:
    assert list(notes("free", "%(x)s", (), {})) == [
        "free: a text that owners read",
        "%(x)s: filled in for each owner; keep it as it is",
    ]


def test_the_nearest_part_of_a_path_decides_its_limit() -> None:
    assert (limit("markets.EU.headline"), limit("now.steps.all"), limit("share")) == (120, None, None)
