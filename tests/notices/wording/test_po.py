"""The PO format, read strictly and with its lines."""

from io import StringIO

import pytest
from babel.messages.pofile import read_po as babels_reader
from hypothesis import given
from hypothesis import strategies as st

from notices.wording import po

SAMPLE = r"""# a note
msgid ""
msgstr "Language: de\n"
"X-Read-By: nobody\n"

#. where it stands
#, fuzzy
#| msgid "Stop"
msgctxt "now.headline"
msgid "Stop now"
msgstr "Halt \"jetzt\"\\"

msgid "one"
msgid_plural "many"
msgstr[0] "eins"
msgstr[1] "viele"

#~ msgid "gone"
#~ msgstr "weg"
"""


def test_an_entry_keeps_its_line_and_all_that_belongs_to_it() -> None:
    found = po.read(SAMPLE)

    assert found.faults == ()
    assert found.headers == {"language": "de", "x-read-by": "nobody"}
    assert found.entries == (
        po.Entry(
            msgid="Stop now",
            line=10,
            context="now.headline",
            translations=('Halt "jetzt"\\',),
            flags=("fuzzy",),
            comments=("#. where it stands",),
            previous="Stop",
        ),
        po.Entry(msgid="one", line=13, plural="many", translations=("eins", "viele")),
        po.Entry(msgid="gone", line=18, translations=("weg",), obsolete=True),
    )


def test_what_was_read_is_written_again_as_it_was() -> None:
    found = po.read(SAMPLE)
    again = "\n".join([found.head, *map(po.render, found.entries)])

    assert again == SAMPLE.replace(
        'msgstr "Language: de\\n"\n"X-Read', 'msgstr ""\n"Language: de\\n"\n"X-Read'
    )


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ('msgid "a"\nmsgstr b\n', 2, "in quotes"),
        ('msgid "a"\nmsgstr "b\n', 2, "in quotes"),
        ('msgid "a"\n\nmsgid "b"\nmsgstr ""\n', 1, "has no msgstr"),
        ('msgctxt "a"\nmsgctxt "b"\nmsgid "c"\nmsgstr ""\n', 2, "msgctxt stands twice"),
        ('msgid "a"\nmsgstr "\\x"\n', 2, r"\\x is not an escape"),
        ('"alone"\n', 1, "in quotes"),
        ("\x00garbage\n", 1, "in quotes"),
        ('msgid "a"\n', 1, "has no msgstr"),
        ('msgctxt "c"\nmsgstr "b"\n', 1, "has no msgid"),
        ('msgid "a"\nmsgstr "b"\nmsgstr "c"\n', 3, "msgstr stands twice"),
    ],
)
def test_a_line_that_is_not_po_is_named_and_the_rest_goes_on(text: str, line: int, message: str) -> None:
    found = po.read(text + '\n# next\nmsgid "good"\nmsgstr "gut"\n')

    assert [fault.line for fault in found.faults] == [line]
    assert message.replace("\\\\", "\\") in found.faults[0].message
    assert [entry.msgid for entry in found.entries][-1] == "good"


def test_previous_text_is_read_over_several_lines_and_its_context_passed_over() -> None:
    text = '#, fuzzy\n#| msgctxt "old"\n#| msgid ""\n#| "a"\n#| "b"\n#| rubbish\nmsgid "c"\nmsgstr "d"\n'

    assert [(entry.previous, entry.context) for entry in po.read(text).entries] == [("ab", "")]


def test_a_blank_line_ends_an_entry_and_what_follows_does_not_harm_it() -> None:
    found = po.read('msgid "a"\nmsgstr "b"\n\n"lost"\n\nmsgid "c"\nmsgstr "d"\n')

    assert [entry.msgid for entry in found.entries] == ["a", "c"]
    assert [fault.line for fault in found.faults] == [4]


def test_signs_that_break_lines_elsewhere_do_not_break_them_here() -> None:
    found = po.read('\ufeffmsgid "a\u2028b\x85c"\r\nmsgstr "d\x0ce"\r\n')

    assert [(entry.msgid, entry.translations) for entry in found.entries] == [("a\u2028b\x85c", ("d\x0ce",))]


_TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1)


@pytest.mark.property
@given(context=_TEXTS, msgid=_TEXTS, translation=_TEXTS, fuzzy=st.booleans())
def test_every_text_comes_back_as_it_was(context: str, msgid: str, translation: str, *, fuzzy: bool) -> None:
    entry = po.Entry(
        msgid=msgid, context=context, translations=(translation,), flags=("fuzzy",) if fuzzy else ()
    )
    found = po.read(po.render(entry))

    assert found.faults == ()
    assert [(e.context, e.msgid, e.translations, e.fuzzy) for e in found.entries] == [
        (context, msgid, (translation,), fuzzy)
    ]


@pytest.mark.property
@given(msgid=_TEXTS, translation=_TEXTS)
def test_an_independent_reader_reads_what_we_write(msgid: str, translation: str) -> None:
    """Babel's reader of PO stands for the editors that translators use."""
    text = po.render(po.Entry(msgid=msgid, context="a.b", translations=(translation,)))
    message = babels_reader(StringIO(text), abort_invalid=True).get(msgid, context="a.b")

    assert message is not None
    assert message.string == translation


@pytest.mark.property
@given(st.text(st.sampled_from('msgidctr"\\n #~|,[0]_pl\n\r\x00é')))
def test_no_text_at_all_stops_the_reader(text: str) -> None:
    found = po.read(text)

    assert all(1 <= fault.line <= text.count("\n") + 1 for fault in found.faults)
