"""The notation of the tables of expressions."""

import pytest

from notices.wording import notation


@pytest.mark.parametrize(
    ("expression", "text", "fits"),
    [
        ("discount", "a discount.", True),
        ("discount", "discounts", False),
        ("discount~", "discounts", True),
        ("discount", "viscodiscount", False),
        ("~discount", "viscodiscount", True),
        ("no {known |}accident{s|}", "no known accidents", True),
        ("no {known |}accident{s|}", "no accident", True),
        ("no {known |}accident{s|}", "no unknown accident", False),
        ("low risk", "low-risk", True),
        ("low risk", "low\n  risk", True),
        ("no .. accidents", "no accidents", True),
        ("no .. accidents", "no such bad old accidents", True),
        ("no .. accidents", "no such very bad old accidents", False),
        ("no .. accidents", "no. accidents", False),
        ("no .. accidents", "no idea. other accidents", False),
        ("(a+b)", "x (a+b) y", True),
    ],
)
def test_an_expression_finds_what_it_is_written_for(expression: str, text: str, fits: bool) -> None:  # noqa: FBT001 - a column of the table
    assert bool(notation.any_of([expression], "en").search(text)) is fits


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("rare", 0),
        ("die unfaelle", 1),
        ("nie", 2),
        ("nimmer", 2),
        ("~", None),
        ("ein wort", 3),
        ("rares", None),
    ],
)
def test_the_place_in_the_list_tells_which_expression_was_found(text: str, place: int | None) -> None:
    found = notation.any_of(["rare", "Unfälle", "{nie|nimmer}", "~ort"], "de").search(text)

    assert (notation.place_of(found) if found else None) == place


def test_an_article_may_stand_before_each() -> None:
    assert notation.any_of(["طوعي"], "ar", "{ال|}").search("الطوعي")
