"""Contrast of text and ground: WCAG 2.2 (W3C Recommendation), success criteria 1.4.3 and 1.4.11."""

import re

import pytest

from notices.compose import signals
from notices.compose.layouts import MAIL_STYLES
from tests import contrast
from tests.composing import TEMPLATES
from tests.contrast import hexadecimal, ratio

WHITE = "#ffffff"
LEAST_TEXT, LEAST_SIGN = 4.5, 3.0
SHEETS = sorted(name for name in TEMPLATES if name.endswith(".css"))
_COLOUR = r"#[0-9a-fA-F]{3,6}\b"


# WCAG 2.2, definition of contrast ratio, note 1: from 1:1 to 21:1. The others are values that the usual contrast
# checkers publish; #767676 is the lightest grey that passes 1.4.3 on white, #777777 the darkest that does not
# (from memory).
@pytest.mark.parametrize(
    ("one", "other", "published"),
    [
        ("#000000", WHITE, "21.00"),
        (WHITE, WHITE, "1.00"),
        ("#767676", WHITE, "4.54"),
        ("#777777", WHITE, "4.48"),
        ("#0000ff", WHITE, "8.59"),
        ("#ff0000", WHITE, "4.00"),
    ],
)
def test_contrast_is_as_published(one: str, other: str, published: str) -> None:
    found = ratio(hexadecimal(one), hexadecimal(other))

    assert f"{found:.2f}" == published
    assert found == ratio(hexadecimal(other), hexadecimal(one))


def test_a_ratio_is_not_rounded_up_to_pass() -> None:
    assert ratio(hexadecimal("#767676"), hexadecimal(WHITE)) >= LEAST_TEXT
    assert ratio(hexadecimal("#777777"), hexadecimal(WHITE)) < LEAST_TEXT


def test_a_pair_is_found_where_a_rule_names_only_one_of_the_two() -> None:
    names = ":root{--ink:#111;--paper:#fff;--wash:#eee}"
    css = names + "a{color:#00f} b{background:#222;color:#fff} b:hover{background:#333}"
    found = {(one.selector, one.ink, one.ground) for one in contrast.pairs(contrast.read(css))}

    assert found == {
        ("a", "#00f", "#fff"),
        ("a", "#00f", "#eee"),
        ("b", "#fff", "#222"),
        ("b:hover", "#fff", "#333"),
    }


# Success criterion 1.4.3, contrast (minimum), level AA.
@pytest.mark.parametrize("name", SHEETS)
def test_every_text_of_a_style_sheet_stands_out(name: str) -> None:
    found = list(contrast.pairs(contrast.read(TEMPLATES[name])))
    faint = [one for one in found if one.ratio < LEAST_TEXT]

    assert len(found) > 5
    assert faint == []


# Success criterion 1.4.11, non-text contrast, level AA: the ring of the focus and the border of a field.
@pytest.mark.parametrize("name", SHEETS)
def test_the_focus_and_every_field_stand_out(name: str) -> None:
    sheet = contrast.read(TEMPLATES[name])
    seen = [
        (selector, value.split()[-1])
        for selector, said in sheet.rules
        for key, value in said.items()
        if key == "outline"
        or (key == "border" and re.match(r"input|textarea|select|\.radio|button", selector))
    ]
    colours = [(selector, sheet.colour(value)) for selector, value in seen if value not in {"0", "none"}]

    assert any(":focus" in selector for selector, _ in colours)
    for selector, colour in colours:
        assert colour is not None, selector
        assert ratio(hexadecimal(colour), hexadecimal(WHITE)) >= LEAST_SIGN, selector


def test_every_text_of_a_mail_stands_out() -> None:
    layout = TEMPLATES["mail.mjml"]
    pairs = set()
    for tag in re.findall(r"<mj-[^>]+>", layout):
        ink = re.search(rf'(?<![\w-])color="({_COLOUR})"', tag)
        ground = re.search(rf'background-color="({_COLOUR})"', tag)
        if ink:
            pairs.add((ink[1], ground[1] if ground else WHITE))
    pairs |= {(colour, WHITE) for colour in re.findall(rf"(?<![\w-])color: ?({_COLOUR})", layout)}
    styled = " ".join(map(str, MAIL_STYLES.values()))

    assert len(pairs) >= 4
    assert re.findall(r"(?<![\w-])color:", styled) == []
    faint = [pair for pair in pairs if ratio(*map(hexadecimal, pair)) < LEAST_TEXT]
    assert faint == []


@pytest.mark.parametrize("word", sorted(signals._COLOURS))  # noqa: SLF001 - the one table of these colours
def test_every_signal_word_stands_out_in_mails_and_on_pages_alike(word: str) -> None:
    ground, ink = signals._COLOURS[word]  # noqa: SLF001 - the one table of these colours

    assert ratio(hexadecimal(ink), hexadecimal(ground)) >= LEAST_TEXT
    for name in SHEETS:
        selector = re.compile(rf"(\.signal)?\.{word.lower()}")
        shown = [
            (one.ground, contrast.hexadecimal(one.ink))
            for one in contrast.pairs(contrast.read(TEMPLATES[name]))
            if selector.fullmatch(one.selector)
        ]
        assert shown == [(ground, hexadecimal(ink))], name
