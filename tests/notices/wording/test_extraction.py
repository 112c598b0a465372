"""Every sentence that templates and code say is found for the catalogues."""

from pathlib import Path

import pytest
from jinja2 import TemplateSyntaxError

from tests import catalogues


def _sentences(folder: Path, name: str, text: str) -> list[tuple[str, str]]:
    file = folder / name
    file.write_text(text, "utf-8")
    return list(catalogues.sentences(file))


def test_both_syntaxes_of_a_template_are_read(tmp_path: Path) -> None:
    text = """{{ _("One") }} [[ _("Two") ]] [% if x %][[ ngettext("a", "b", n) ]][% endif %] {# _("Not") #}"""

    assert _sentences(tmp_path, "a.mjml", text) == [("One", ""), ("Two", ""), ("a", "b")]


def test_a_template_that_uses_signs_of_the_other_syntax_as_text_is_read(tmp_path: Path) -> None:
    assert _sentences(tmp_path, "a.txt", '{{ _("One") }} [% [[') == [("One", "")]


def test_a_template_that_cannot_be_read_is_not_passed_over(tmp_path: Path) -> None:
    with pytest.raises(TemplateSyntaxError):
        _sentences(tmp_path, "a.html", '{{ _("One") }')


def test_code_marks_its_sentences_in_four_ways(tmp_path: Path) -> None:
    text = 'X = msgid("A")\ny = c.gettext("B", day=d)\nz = _("C")\nn = c.ngettext("D", "%(count)s Ds", 3)\n'

    assert _sentences(tmp_path, "a.py", text) == [("A", ""), ("B", ""), ("C", ""), ("D", "%(count)s Ds")]


def test_code_may_choose_between_two_sentences_and_name_one(tmp_path: Path) -> None:
    text = 'A = msgid("A")\nask = "B" if x else "C"\ny = ours(A), ours(ask)\nc.ours("D" if y else "E")\nours(other)\n'

    assert set(_sentences(tmp_path, "a.py", text)) == {(letter, "") for letter in "ABCDE"}


def test_the_signal_words_are_among_what_owners_read() -> None:
    assert ("WARNING", "") in catalogues.said("notices")
