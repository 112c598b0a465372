"""Whether instructions and promises say who acts; a passive without an actor leaves everyone waiting for another.

Told by the signs of English and German alone; other languages are let pass. What happens to people or stands on the
product (can be killed, is stamped) is no instruction and is not looked at.
"""

import re
from collections.abc import Callable, Iterator, Mapping

from audiences.findings import Finding, Severity
from notices.campaign.shape import lies_in
from notices.wording.counting import sentences
from notices.wording.passages import Passage, Reading
from notices.wording.splitting import family, words_of

_ASKED_OR_PROMISED = (
    "answer_within",
    "before_remedy",
    "cautions",
    "free",
    "meanwhile",
    "now.headline",
    "now.steps",
    "remedies",
)
_SHORTEST = 4  # need, feed: no participle is shorter than used
_CLAUSE = re.compile(r"[,;:()!?]|\.(?=\s|$)|\s(?:und|oder|and|or)\s")

_BE = words_of("is are was were be been being get gets")
_BETWEEN = words_of("not also then now always never only both all")
_IRREGULAR = words_of(
    "begun bent bought bound broken brought built caught chosen cut done drawn driven found given held kept laid left"
    " lent lost made met mended paid put rebuilt repaid reset run seen sent set shown shut sold taken thrown told torn"
    " undone worn written"
)
# Said of how something is, not of what is done to it.
_STATES = words_of("affected allowed closed concerned finished interested needed qualified supposed tired")
_SUBORDINATE = words_of(
    "after as because before if once that unless until what when where whether which while who"
)

_WERDEN = words_of("werden wird wurde wurden")
_PARTICIPLE = re.compile(
    r"\w{0,12}ge\w{1,20}(?:t|en)|\w{0,12}(?:be|ver|er|ent|zer|miss)\w{1,20}t|\w{1,24}iert"
)
_INFINITIVES = words_of("angehen geben gehen gehören gelten genügen geschehen gewinnen")
_ACTOR = frozenset({"von", "vom", "durch"})


def without_actor(reading: Reading) -> Iterator[Finding]:
    """Name each passive in what is asked of an owner or promised to them, where nobody is said to do it."""
    for passage in reading.passages():
        tell = _TELLERS.get(family(passage.language))
        if tell and lies_in(passage.path, *_ASKED_OR_PROMISED):
            for one in sentences(passage.text, passage.language):
                yield from (_finding(passage, words) for words in _told(one.text, tell))


def _finding(passage: Passage, words: str) -> Finding:
    return Finding(
        code="passive-without-actor",
        **passage.where,
        message=f"nobody is named who does it: “{words}”",
        mend="say who does it, as: we replace it; a mechanic repairs it",
        severity=Severity.CONSIDER,
        source="US Federal Plain Language Guidelines 2011: active voice",
    )


def _told(text: str, tell: Callable[[list[str]], str]) -> Iterator[str]:
    for clause in _CLAUSE.split(text):
        words = clause.split()
        found = tell([word.lower() for word in words])
        if found:
            yield found


def _english(words: list[str]) -> str:
    """Return the passive of a main clause without an actor, empty where there is none."""
    begin = next((at for at, word in enumerate(words) if word in _BE or word in _SUBORDINATE), len(words))
    form, done = "", ""
    for at in range(begin, len(words)):  # is also being carefully checked
        done = words[at]
        if done in _BE:
            form = done
        elif done not in _BETWEEN and not done.endswith("ly"):
            break
    return f"{form} {done}" if form and _participle(done) and "by" not in words[begin:] else ""


def _participle(word: str) -> bool:
    return word in _IRREGULAR or (word.endswith("ed") and len(word) > _SHORTEST and word not in _STATES)


def _german(words: list[str]) -> str:
    """Return the passive of a main clause without an actor: werden, and a participle at the end of the clause."""
    form = next((word for word in words[:-1] if word in _WERDEN), "")
    if not form or words[-1] in _INFINITIVES or _ACTOR.intersection(words):
        return ""
    return f"{form} {words[-1]}" if _PARTICIPLE.fullmatch(words[-1]) else ""


_TELLERS: Mapping[str, Callable[[list[str]], str]] = {"de": _german, "en": _english}
