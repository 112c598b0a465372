"""How easy the notice reads in each language: what was counted, what the formulas say of it, and what is hardest."""

from collections.abc import Iterator
from dataclasses import dataclass

from audiences.findings import Finding, Severity
from notices.campaign.shape import lies_in
from notices.wording.counting import Sentence, counted, sentences
from notices.wording.formulas import Counts, together
from notices.wording.passages import Passage, Reading
from notices.wording.readability import Score, scores
from notices.wording.sentence_checks import shown
from notices.wording.splitting import family
from notices.wording.syllables import COUNTERS

# The running text of a notice, in the order in which an owner reads it; labels, buttons and answers are none.
_NOTICE = (
    "now.headline",
    "hazard.what",
    "hazard.who",
    "hazard.without_sign",
    "now.steps",
    "now.other_code",
    "now.code_missing",
    "now.call_at_once",
    "before_remedy",
    "remedies",
    "free",
    "answer_within",
    "meanwhile",
    "cautions",
    "ledger",
    "no_longer",
    "share",
)
_NAMED = 3  # hardest sentences
_A_SENTENCE = 8  # words; a shorter one is never called hard
_LONG = 6  # letters; a long word has more


@dataclass(frozen=True, slots=True)
class Hard:
    """One of the hardest sentences, with its place."""

    passage: Passage
    sentence: Sentence


@dataclass(frozen=True, slots=True)
class Ease:
    """The notice in one language; no scores under thirty words, or where no formula can be reckoned."""

    language: str
    counts: Counts
    scores: tuple[Score, ...]
    hardest: tuple[Hard, ...]

    @property
    def syllables(self) -> int | None:
        """Return the syllables; None in a language without rules for them."""
        return self.counts.syllables if family(self.language) in COUNTERS else None

    @property
    def missed(self) -> tuple[Score, ...]:
        """Return the firm scores that fall short of their aim."""
        return tuple(
            score
            for score in self.scores
            if score.aim and not score.indicative and not score.aim.met(score.value)
        )


def eases(reading: Reading) -> tuple[Ease, ...]:
    """Return how easy the notice reads in each language that it has words in."""
    return tuple(found for tag in reading.languages if (found := _ease(reading, tag)))


def hard_notices(reading: Reading) -> Iterator[Finding]:
    """Name each language whose notice falls short of an aim, at its hardest sentence; never under a hundred words."""
    for ease in eases(reading):
        if ease.missed:
            first, *others = ease.hardest
            yield Finding(
                code="notice-hard-to-read",
                **first.passage.where,
                message=f"the notice is hard to read in this language: {'; '.join(map(_said, ease.missed))}"
                f" ({_counts(ease)}); hardest: {shown(first.sentence)}",
                mend="make sentences shorter and take plainer words, here first"
                + "".join(map(_place, others)),
                severity=Severity.CONSIDER,
                source="WCAG 2.2, success criterion 3.1.5 (from memory); the limits are a house rule",
            )


def _ease(reading: Reading, tag: str) -> Ease | None:
    passages = [
        passage for part in _NOTICE for passage in reading.passages(tag) if _is(passage.path, part, reading)
    ]
    counts = together(filter(None, (counted(passage.text, tag) for passage in passages)))
    if counts is None:
        return None
    return Ease(tag, counts, scores(tag, counts), _hardest(passages, tag))


def _is(path: str, part: str, reading: Reading) -> bool:
    if part == "before_remedy" and not reading.warning:
        return False
    if part == "remedies" and not (path.endswith(".promise") or ".steps[" in path):
        return False
    return lies_in(path, part)


def _hardest(passages: list[Passage], tag: str) -> tuple[Hard, ...]:
    every = [Hard(passage, one) for passage in passages for one in sentences(passage.text, tag)]
    return tuple(sorted(every, key=_hardness, reverse=True)[:_NAMED])


def _hardness(hard: Hard) -> float:
    """Return words and the share of long ones, as LIX has it; a short sentence comes last."""
    words = hard.sentence.words
    long = sum(len(word) > _LONG for word in hard.sentence.read)
    return len(words) + 100 * long / len(words) if len(words) >= _A_SENTENCE else 0


def _said(score: Score) -> str:
    disputed = f" ({score.formula.unsure})" if score.formula.unsure else ""
    return f"{score.name} {score.value:.1f}, aimed at {score.aim}{disputed}"


def _counts(ease: Ease) -> str:
    syllables = "" if ease.syllables is None else f", {ease.syllables} syllables"
    return f"{ease.counts.words} words, {ease.counts.sentences} sentences{syllables}"


def _place(hard: Hard) -> str:
    where = hard.passage
    return f", then {where.path}" + (f" (line {where.line})" if where.line else "")
