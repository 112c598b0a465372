"""How easy the notice reads, as check prints it: a line a language, with its counts beside the score."""

from collections.abc import Iterator, Sequence

from notices.wording.ease import Ease
from notices.wording.readability import LEAST_WORDS, Score


def lines(eases: Sequence[Ease]) -> Iterator[str]:
    """Yield one line on what follows, then one a language; nothing where there are no words."""
    if eases:
        yield "How the notice reads, by published formulas; no score says that anybody understood it:"
        yield from _table([_row(ease) for ease in eases])
        yield ""


def _row(ease: Ease) -> tuple[str, ...]:
    counts = ease.counts
    head = (ease.language, f"{counts.words} words", f"{counts.asl:.1f} a sentence")
    if not ease.scores:
        few = counts.words < LEAST_WORDS
        return (*head, f"no score under {LEAST_WORDS} words" if few else "no score: counts only")
    score = ease.scores[0]
    return (
        *head,
        f"{score.name} {score.value:.1f}",
        f"aim {score.aim}" if score.aim else "no aim",
        _notes(score),
    )


def _notes(score: Score) -> str:
    disputed = "disputed" if "disputed" in score.formula.unsure else ""
    indicative = "indicative" if score.indicative else ""
    return ", ".join(filter(None, (score.band, indicative, disputed)))


def _table(rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield the rows in columns; the last cell of a row, which may stand for several, makes none wider."""
    widths = [
        max((len(row[at]) for row in rows if at < len(row) - 1), default=0)
        for at in range(max(map(len, rows)))
    ]
    for row in rows:
        yield "  " + "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=False)).rstrip()


def as_json(ease: Ease) -> dict[str, object]:
    """Return everything that was counted and reckoned for one language."""
    counts = ease.counts
    told = ease.syllables is not None
    return {
        "language": ease.language,
        "words": counts.words,
        "sentences": counts.sentences,
        "syllables": ease.syllables,
        "letters": counts.letters,
        "words_of_one_syllable": counts.one_syllable if told else None,
        "words_of_three_syllables_or_more": counts.three_syllables if told else None,
        "words_of_four_syllables_or_more": counts.four_syllables if told else None,
        "words_of_more_than_six_letters": counts.long_words,
        "arabic_words_of_more_than_five_letters": counts.over_five,
        "scores": [_score(score) for score in ease.scores],
        "hardest": [
            {
                "file": hard.passage.file,
                "path": hard.passage.path,
                "words": len(hard.sentence.words),
                "text": hard.sentence.text,
            }
            for hard in ease.hardest
        ],
    }


def _score(score: Score) -> dict[str, object]:
    return {
        "formula": score.name,
        "value": round(score.value, 4),
        "indicative": score.indicative,
        "band": score.band,
        "aim": str(score.aim) if score.aim else None,
        "met": score.aim.met(score.value) if score.aim else None,
        "source": score.formula.source,
        "unsure": score.formula.unsure,
    }
