"""A reader finds on a page what a person would find: words, links, fields, choices, buttons."""

import pytest

from notices.demo.browser import Browser
from notices.demo.clock import Clock
from notices.demo.forms import Page
from notices.demo.staff import moment
from notices.demo.turns import END

PAGE = """<!doctype html><title>no word of it</title><style>p {color: red}</style>
<p>Stop &amp; wait</p><a href="../a/gone?lang=de">gone</a>
<form action="x"><input type="hidden" name="do" value="place"><textarea name="place">here
</textarea><input name="phone" type="tel" value="1"><input type="radio" name="by" value="mechanic">
<select name="country"><option value=""></option><option value="IE">Ireland</option></select>
<button name="go" value="on">Next</button><button>Plain</button></form>"""


def page() -> Page:
    return Page("https://a.example/b/c", 200, PAGE)


def test_a_form_shows_its_fields_choices_and_buttons() -> None:
    form = page().form(do="place")

    assert form is not None
    assert form.fields == {"do": "place", "place": "here\n", "phone": "1"}
    assert form.choices == {"by": ["mechanic"], "country": ["", "IE"]}
    assert [(each.name, each.value, each.words) for each in form.buttons] == [
        ("go", "on", "Next"),
        ("", "", "Plain"),
    ]


def test_words_are_what_can_be_read() -> None:
    assert "Stop & wait" in page().words
    assert "no word of it" not in page().words
    assert "color" not in page().words


def test_a_link_is_found_by_the_end_of_its_path() -> None:
    assert page().link("/gone") == "../a/gone?lang=de"
    assert page().link("/fixed") is None


def test_what_a_form_does_not_have_cannot_be_sent() -> None:
    shown = page()
    form = shown.forms[0]
    browser = Browser("nobody", port=9, clock=Clock(moment(END, 8)), trail=[])

    with pytest.raises(ValueError, match="has no signs"):
        browser.send(shown, form, {"signs": "0172"})
    with pytest.raises(ValueError, match="has no by that could be me"):
        browser.send(shown, form, {"by": "me"})
    with pytest.raises(ValueError, match="no button use=x"):
        browser.choose(shown, form, "use", "x")
    with pytest.raises(ValueError, match="no link"):
        browser.follow(shown, "/fixed")
