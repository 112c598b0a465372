"""What the MJML compiler would take without a word is found before it is asked."""

import pytest

from notices.compose.layouts import LayoutError, compiled, html
from notices.compose.lint import lint
from notices.compose.speaking import speaker
from tests.composing import catalogue, demo

_PAGE = '<mjml lang="en" dir="ltr"><mj-body>{}</mj-body></mjml>'
_TEXT = _PAGE.format("<mj-section><mj-column>{}</mj-column></mj-section>")


def test_our_own_kind_of_page_is_let_through() -> None:
    assert lint(_TEXT.format("<mj-text>a &amp; b<br/></mj-text>")) == ()


@pytest.mark.parametrize(
    ("source", "fault"),
    [
        (_TEXT.format("<mj-txt>a</mj-txt>"), "line 1: <mj-txt> is no tag of ours"),
        (_TEXT.format('<mj-text colour="red">a</mj-text>'), "line 1: <mj-text> takes no colour"),
        (_TEXT.format('<mj-image src="cid:a" />'), "line 1: <mj-image> lacks alt"),
        (_PAGE.format("<mj-text>a</mj-text>"), "line 1: <mj-text> cannot stand in <mj-body>"),
        (_TEXT.format("<mj-text>a</mj-txt>"), "line 1: mismatched tag"),
        (_TEXT.format("<mj-text>&foo;</mj-text>"), "line 1: undefined entity"),
        (_TEXT.format('<mj-text color="a" color="b">a</mj-text>'), "line 1: duplicate attribute"),
        ("", "line 1: no element found"),
        ('<mjml dir="ltr"></mjml>', "line 1: <mjml> lacks lang"),
        ('<!DOCTYPE a><mjml lang="en" dir="ltr"></mjml>', "a document type has no place in MJML"),
    ],
)
def test_a_fault_is_named_with_its_line(source: str, fault: str) -> None:
    assert fault in lint(source)


def test_a_faulty_layout_is_never_compiled() -> None:
    with pytest.raises(LayoutError, match="<mj-txt> is no tag of ours"):
        compiled(_TEXT.format("<mj-txt>a</mj-txt>"))


def test_a_bare_text_cannot_slip_into_a_notice() -> None:
    voice = speaker(demo(1), catalogue("en"))

    with pytest.raises(LayoutError, match="a template writes a str where a phrase must stand"):
        html({"x": "{{ value }}"}, "x", voice, value="<b>")
