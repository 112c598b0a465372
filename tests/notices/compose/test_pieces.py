"""Second templates put together from pieces: what Jinja would write, for every variant and every form."""

import json
from itertools import product

import pytest
from markupsafe import Markup

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.compose.filling import fill, own_values
from notices.compose.layouts import fill_html, fill_text
from notices.compose.mail import message_bytes
from notices.compose.wrapping import wrap
from tests.composing import LANGUAGES, PICTURES, composed, demo, key, owner, unit, values
from tests.registers import NOW

NASTY = '[[ link ]] [% raw %] [# a #] <b>&amp;</b> %(link)s {{ 7 }} \\ "quote" = . \u202e'
UNITS = {
    "one": (unit(),),
    "none": (unit(None),),
    "several": (unit(), unit("QM-2534-A9999", "11111111"), unit(None, "22222222")),
}


@pytest.mark.parametrize("form", UNITS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_pieces_make_what_the_template_engine_makes(language: str, form: str) -> None:
    campaign = demo(1, language)
    for verdict, segment in product((Verdict.AFFECTED, Verdict.CLEARED), Segment):
        content = composed(campaign, key("first", verdict, segment, language)).content
        given = values(campaign, language, owner(NASTY), UNITS[form])
        variant = json.loads(content)
        rich, plain = own_values(variant, json.loads(given))
        forms = variant["units"][form]
        block = Markup(fill_html(forms["html"], {**rich, "plain": plain}))  # noqa: S704 - escaped by the engine
        text = fill_text(variant["text"], {**plain, "units": fill_text(forms["text"], plain)})
        mail = fill(content, given)

        assert mail.html == fill_html(variant["html"], {**rich, "plain": plain, "units": block})
        assert mail.text == wrap(text)


def test_a_value_that_is_lacking_is_an_error_and_no_gap() -> None:
    campaign = demo(1)
    given = json.loads(values(campaign))
    del given["units"][0]["reference"]

    with pytest.raises(LookupError):
        fill(composed(campaign, key()).content, json.dumps(given))


def test_no_line_of_a_body_put_together_is_longer_than_the_standard_allows() -> None:
    campaign = demo(1)
    data = message_bytes(
        composed(campaign, key()).content,
        values(campaign, who=owner(NASTY), units=UNITS["several"]),
        to="ada@owner.example",
        date=NOW,
        message_id="<p1@aldmere.example>",
        pictures=PICTURES,
    )
    body = data.partition(b"\r\n\r\n")[2]

    # RFC 2045, section 6.7, rule 5: at most 76 characters, the soft line break counted
    assert max(map(len, body.split(b"\r\n"))) <= 76
