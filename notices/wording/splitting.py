"""Where a sentence ends: not at the full stop of a short form, an ordinal, a number, an address or a code.

The end is a full stop, question or exclamation mark or ellipsis before white space (Unicode UAX #29 names the signs).
What runs on after a full stop in small letters is a new sentence here, though UAX #29, SB8, has it otherwise: owners'
notices are typed in haste, and two short sentences must not be told as a long one.
"""

import re
from collections.abc import Iterator

_ENDS = re.compile(r"(?:([.!?…؟\u06d4]+)[\"'”\u2019“\u2018»«\u203a\u2039)\]]*(?=\s|$))|[。\uff01\uff1f]+")
_BEFORE = 24  # signs that are looked at before a full stop; no short form is longer
_LETTERS = re.compile(r"[^\W\d_](?:\.[^\W\d_])*")
_OPENERS = "\"'“„\u2018\u201a«»(["


def words_of(words: str) -> frozenset[str]:
    """Return the words of a table's cell as a set."""
    return frozenset(words.split())


# What ends in a full stop and goes on. The words are ours; which are missing shows as a sentence too many.
_EVERYWHERE = "approx art ca cf dr fig max min mr mrs ms prof st tel vs"
_SHORT = {
    language: words_of(f"{_EVERYWHERE} {more}")
    for language, more in {
        "cs": "apod atd atp cca čl kap např obr popř pozn resp tj tzn tzv ul",
        "da": "bl dvs ekskl evt fx hhv inkl jf kl mv osv pga tlf",
        "de": "abb abs allg bsp bzw dgl etc evtl exkl ggf inkl insb mind mio mrd nachm sog str usf usw vgl vorm zzgl",
        "en": "ave corp dept e.g ed eds est etc ext gen hrs i.e inc incl jr ltd mt rd rev sgt sr",
        "es": "aprox avda dña dpto ej etc incl núm pág págs sr sra sres srta tfno ud uds",
        "fr": "apr av bd chap etc ex incl mlle mme réf tél téléph",
        "it": "avv cap dott ecc ing rag sig sigg tel",
        "nl": "afb bijv bv dhr dwz enz evt excl incl mevr mw zgn",
        "pl": "dot godz im inż itd itp mgr np pkt poz przyp ul ust wg woj zob",
        "pt": "av cap dra eng etc ex exa incl núm pág págs sra",
        "sv": "bl dvs ev exkl inkl jfr kap kl osv resp tel",
    }.items()
}
_LISTS_END = words_of("apod atd atp ecc enz etc itd itp mv osv usf usw")
_BEFORE_A_NUMBER = words_of("abb afb fig kl no nr num núm obr p pkt poz rys s")
_BEFORE_AN_ORDINAL = words_of("am das dem den der des die im jede jeden vom zum")
_GERMAN_MONTHS = words_of(
    "januar februar märz april mai juni juli august september oktober november dezember"
)
_HOURS = frozenset({"a.m", "p.m"})
_PAIR = 2


def family(tag: str) -> str:
    """Return what decides how a language is counted: the first part of its tag (RFC 5646)."""
    return tag.partition("-")[0].lower()


def pieces(text: str, own: str) -> Iterator[str]:
    """Yield the sentences of *text* in the language *own*, white space around them taken off."""
    begin = 0
    for match in _ENDS.finditer(text):
        if not _goes_on(text, begin, match, own):
            yield text[begin : match.end()].strip()
            begin = match.end()
    if text[begin:].strip():
        yield text[begin:].strip()


def _goes_on(text: str, begin: int, end: re.Match[str], own: str) -> bool:
    """Say whether the sentence goes on after this sign."""
    after = text[end.end() : end.end() + _BEFORE].split()
    if not after:
        return False
    small = after[0].lstrip(_OPENERS)[:1].islower()
    if end[1] in {"…", "..."}:
        return small
    if end[0] != ".":
        return small and end[1] in {"!", "?"} and end[0] != end[1]  # "Stop!" he said
    near = max(begin, end.start() - _BEFORE)
    before = text[near : end.start()].split()
    if len(before) == 1 and near == begin and before[0].isdigit():
        return True  # 1. Stop.
    return bool(before) and _goes_on_short(before, after, own)


def _goes_on_short(before: list[str], after: list[str], own: str) -> bool:
    """Say whether the full stop between these words belongs to a short form or an ordinal."""
    last = before[-1].lstrip(_OPENERS).lower()
    then = after[0].lstrip(_OPENERS)
    if last.isdigit():
        return _ordinal(before, last, then, own)
    if last in _BEFORE_A_NUMBER and then[:1].isdigit():
        return True
    if last in _LISTS_END:
        return not then[:1].isupper()
    return last in _SHORT.get(own, frozenset()) or _lettered(before, after, then)


def _ordinal(before: list[str], last: str, then: str, own: str) -> bool:
    """Say whether a number with a full stop is a day or a place in a row, as in: am 3. März."""
    if own not in {"cs", "da", "de", "pl"} or len(last) > _PAIR:
        return False
    word = then.rstrip(".,;:!?)").lower()
    row = own == "de" and (before[-2:-1] or [""])[0].lower() in _BEFORE_AN_ORDINAL
    return then[:1].islower() or row or (own == "de" and word in _GERMAN_MONTHS)


def _lettered(before: list[str], after: list[str], then: str) -> bool:
    """Say whether single letters with full stops go on, as in: z. B., p. ej., e.g., U.S.; line B. ends."""
    if not _LETTERS.fullmatch(before[-1].lstrip(_OPENERS)):
        return False
    if "." in before[-1]:
        return not then[:1].isupper() or (before[-1][0].islower() and before[-1] not in _HOURS)
    if _one_letter(after[0]):
        return True
    paired = len(before) > 1 and _one_letter(before[-2])
    return (paired and before[-2][:1].islower()) or (before[-1].islower() and not then[:1].isupper())


def _one_letter(word: str) -> bool:
    return len(word) == _PAIR and word[0].isalpha() and word[1] == "."
