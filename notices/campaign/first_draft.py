"""The first campaign.yaml: the answers in it, and every part that was not asked as an example behind a ``#``."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from audiences.findings import must_mend
from audiences.proposing import propose
from audiences.verdicts import SAFE, judge
from notices.campaign.answers import Answers
from notices.campaign.checks import check
from notices.campaign.duties import market_of
from notices.campaign.layouts import judge_of
from notices.campaign.loading import load
from notices.campaign.questions import ASKS
from notices.campaign.starter import STARTER

# What a person is told of the harm: never less than was answered, and where it is not known, that it is not.
_HARM = {
    "killed": ("WARNING", "People can be killed or badly hurt."),
    "badly": ("WARNING", "People can be badly hurt."),
    "slightly": ("CAUTION", "People can be hurt."),
    None: ("WARNING", "People can be badly hurt. How badly is not yet known."),
}
_PLACES = {"shelf": "our own shelf", "web-shop": "web shop", "hire": "hire units"}
_RULE = re.compile(r"(?P<field>[A-Za-z][\w-]*)[\s:=]+(?P<values>\S.*)")
_RANGE = re.compile(r"(\w+)\s*(?:-|to)\s*(\w+)")


def first_draft(answers: Answers, today: date) -> str:
    """Return the text of campaign.yaml: a stop warning, which no answer about code or rule holds back.

    A layout or a rule that the checks would not pass is left out, and stands as not yet known. So do all rules where
    one line is none, for the rest alone would clear the units that it meant; and where none of the copied codes is
    affected, for then layout or rule may be misunderstood, and all would be cleared.
    """
    if answers["layout"] != "yes" or not all(map(_rule, answers.lines("affected"))):
        answers = Answers({**answers, "affected": None})
    text = _written(answers, today)
    for keys in (("affected", "sold-first", "sold-last"), ("codes", "layout")):
        if _is_unsure(text, answers.lines("codes")):
            answers = Answers({**answers, **dict.fromkeys(keys)})
            text = _written(answers, today)
    return text


def _is_unsure(text: str, codes: Sequence[str]) -> bool:
    """Say whether code or rule must be mended, or the rules clear every code that was copied from a unit."""
    loaded = load(text)
    campaign = loaded.campaign
    assert campaign is not None, "the answers were held to what a campaign takes"  # noqa: S101 - ours, if ever
    found = [*loaded.findings, *check(campaign, loaded.lines, {})]
    judges = judge_of(campaign, {})
    cleared = [judge(judges, code).verdict in SAFE for code in codes]
    asks_code = any(rule.conditions for rule in campaign.affected)
    return (asks_code and all(cleared)) or any(
        re.match(r"code|affected", finding.path) for finding in must_mend(found)
    )


def _written(answers: Answers, today: date) -> str:
    text = STARTER
    for key, live in _parts(answers, today):
        text = _put(text, key, live)
    return text


Live = Mapping[str, str] | Sequence[str]
"""The lines of a list, or each sub-key with what stands after it."""


def _parts(answers: Answers, today: date) -> Iterator[tuple[str, Live]]:
    """Yield each part that the answers fill, outermost key first."""
    product = answers.text("product")
    signal, harm = _HARM[answers.text("worst")]
    yield "revision", [f' {{number: 0, day: {today}, why: "First warning."}}']
    yield "next_word", [f" {answers.day('next-word')}"]
    yield (
        "issuer",
        _kept(
            name=answers.text("issuer"),
            role=answers.text("role"),
            address=answers.text("town"),
            country=answers.text("country"),
            email=answers.text("email"),
        ),
    )
    if answers.lines("phones"):
        yield "contacts", ["", *_contacts(answers)]
    yield "product", {**_kept(name=product), **_sold(answers)}
    yield from _code(answers)
    fails, happens = answers.text("fails"), answers.text("happens")
    yield (
        "hazard",
        {
            "signal": f" {signal}",
            **_kept(what=fails and _sentence(fails), who=happens and f"{_sentence(happens)} {harm}"),
            **_signs(answers),
        },
    )
    headline, steps = _now(answers)
    yield "subjects", _kept(stop=f"{headline.rstrip('.!')} (safety warning)")
    yield (
        "preheaders",
        _kept(stop="Stop now, even if you notice nothing. We will write again by %(next_word)s."),
    )
    yield (
        "now",
        {
            **_kept(headline=headline),
            "steps": "".join(["\n    all:", *(f"\n      - {_quoted(step)}" for step in steps)]),
            **(_kept(code_missing=_CODE_MISSING) if answers["codes"] else {}),
        },
    )
    promise = _sentence(answers.text("promise") or "We are working on a remedy.")
    yield (
        "before_remedy",
        [f" {_quoted(f'{promise} You will hear from us by %(next_word)s. Until then, do not use it.')}"],
    )
    yield "ledger", ["", *(f"  - {fact}" for fact in _facts(answers, today))]
    if answers.lines("countries"):
        yield "markets", ["", *_markets(answers.lines("countries"))]
    yield "warning_headline", [" Important safety warning"]
    yield "languages", [" {written: [en], default: en}"]
    yield "sale_stop", {"places": f" [{', '.join(map(_quoted, _places(answers)))}]"}


_CODE_MISSING = (
    "We do not have the code of your unit. Do not use it. Tell us the code, or send us a photo of it."
)


def _kept(**texts: str | None) -> dict[str, str]:
    """Return each text that is known, quoted; the address is a list of lines."""
    return {
        key: f" [{_quoted(text)}]" if key == "address" else f" {_quoted(text)}"
        for key, text in texts.items()
        if text is not None
    }


def _quoted(text: str) -> str:
    """Quote a text without controls as JSON, which YAML reads as it is."""
    return json.dumps(text, ensure_ascii=False)


def _sentence(text: str) -> str:
    return text if text[-1] in ".!?" else f"{text}."


def _contacts(answers: Answers) -> Iterator[str]:
    for country, number in {line[:2]: line[3:] for line in answers.lines("phones")}.items():
        reached = f"phone: {_quoted(number)}" if number else "call_back: true"
        yield f"  - {{countries: [{_quoted(country)}], {reached}}}"


def _sold(answers: Answers) -> dict[str, str]:
    parts = {"units": answers["sold"], "from": answers["sold-from"], "to": answers["sold-to"]}
    known = [f"{key}: {value}" for key, value in parts.items() if value is not None]
    return {"sold": f" {{{', '.join(known)}}}"} if known else {}


def _code(answers: Answers) -> Iterator[tuple[str, Live]]:
    """Yield the code where anything is known of it, and the rules; an unsure layout is left out and clears nobody."""
    where = _kept(where=answers.text("code-where"))
    layout = dict(propose(answers.lines("codes")).as_data) if answers["layout"] == "yes" else {}
    if where or layout:
        yield (
            "code",
            {
                **where,
                **{key: f" {json.dumps(value, ensure_ascii=False)}" for key, value in layout.items()},
            },
        )
    rules = list(map(_rule, answers.lines("affected")))
    days = answers.day("sold-first"), answers.day("sold-last")
    if None not in days:
        rules = [f"sold: [{days[0]}, {days[1]}]"]
    if rules:
        yield "affected", ["", *(f"  - {{rule: rule-{at}, {rule}}}" for at, rule in enumerate(rules, 1))]


def _rule(line: str) -> str:
    """Return one rule's conditions, empty where the line is none; the checks hold them against the layout."""
    conditions = []
    for part in re.split(r"[,;]", line):
        found = _RULE.fullmatch(part.strip())
        if found is None:
            return ""
        ends = _RANGE.fullmatch(found["values"].strip())
        values = ends.groups() if ends else found["values"].split()
        conditions.append(f"{_quoted(found['field'])}: [{', '.join(map(_quoted, values))}]")
    return ", ".join(conditions)


def _signs(answers: Answers) -> dict[str, str]:
    signs = answers.lines("signs")
    without = {"without_sign": f" {_quoted('It can happen with no sign beforehand.')}"}
    return {**without, "signs": f" [{', '.join(map(_quoted, signs))}]"} if signs else without


def _now(answers: Answers) -> tuple[str, tuple[str, ...]]:
    """Return the headline and the steps below it; where nothing is known, that everyone stops."""
    named = answers.text("product")
    first, *rest = answers.lines("now") or (
        f"Stop using your {named} now." if named else "Stop using it now.",
    )
    ours = ("Do not lend, sell or give it away. Tell everyone who uses it.", "Tell us that you have stopped.")
    return _sentence(first), (_sentence(first), *map(_sentence, rest), *ours)


def _markets(countries: Sequence[str]) -> Iterator[str]:
    markets: dict[tuple[str, str], list[str]] = {}
    for country in countries:
        markets.setdefault(market_of(country), []).append(country)
    for (key, headline), inside in markets.items():
        yield f"  {_quoted(key)}: {{countries: [{', '.join(map(_quoted, inside))}], headline: {headline}}}"


def _places(answers: Answers) -> list[str]:
    """Return every place that may still sell or hand out a unit, those that we do not know of with them."""
    ours = [name for key, name in _PLACES.items() if answers[key] != "none"]
    return list(dict.fromkeys([*ours, *answers.lines("shops")]))


def _facts(answers: Answers, today: date) -> Iterator[str]:
    learned = answers.day("learned")
    fails = answers.text("fails")
    if learned is not None:
        text = f"We learned that this can happen: {_sentence(fails)}" if fails else "We learned of a fault."
        yield f"{{day: {learned}, standing: known, text: {_quoted(text)}}}"
    for text in answers.lines("happened"):
        yield f"{{day: {learned or today}, standing: known, text: {_quoted(_sentence(text))}}}"
    for key, text in _SILENT.items():
        if answers[key] == "no":
            about = next(ask.about for ask in ASKS if ask.key == key)
            yield f"{{standing: being_checked, inside: true, about: {about}, text: {_quoted(text)}}}"
    if answers["units"] == "all":
        yield f"{{standing: being_checked, about: affected, text: {_quoted('Which units are affected.')}}}"
    asked = [ask for ask in ASKS if answers[ask.key] is None and _applies(ask.key, answers)]
    for about, text, inside in dict.fromkeys((ask.about, ask.unknown, ask.inside) for ask in asked):
        alone = ", inside: true" if inside else ""
        yield f"{{standing: not_yet_known{alone}, about: {about}, text: {_quoted(text)}}}"


_SILENT = {
    "unsubscribed": "Whether we have the address of everyone who bought it.",
    "shelf": "Whether sales from the shelf have stopped.",
    "web-shop": "Whether sales on the web have stopped.",
    "hire": "Whether units for hire have been stopped.",
}


def _applies(key: str, answers: Answers) -> bool:
    if key in {"sold-first", "sold-last"}:
        return answers["units"] == "day"
    if key == "affected":
        return answers["units"] == "code"
    return True


def _put(text: str, key: str, live: Live) -> str:
    """Put a part in the place of its example; a sub-key without an answer stays an example."""
    lines = text.split("\n")
    begin = next(at for at, line in enumerate(lines) if re.match(rf"(# )?{key}:", line))
    end = begin + 1
    while lines[end].startswith(("#  ", "  ")):
        end += 1
    if isinstance(live, Mapping):
        written = [f"{key}:", *_below(lines[begin + 1 : end], live)]
    else:
        written = [f"{key}:{live[0]}", *live[1:]]
    return "\n".join([*lines[:begin], *written, *lines[end:]])


def _below(example: Sequence[str], live: Mapping[str, str]) -> Iterator[str]:
    """Yield the lines below a key: first what is known, then the examples of what is not."""
    yield from (line for key, value in live.items() for line in f"  {key}:{value}".split("\n"))
    kept = True
    for line in example:
        found = re.match(r"(?:#   |  # |  )([a-z_]+):", line)
        if found:
            kept = found[1] not in live
        if kept:
            yield re.sub(r"^#   ", "  # ", line)
