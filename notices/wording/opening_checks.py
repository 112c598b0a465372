"""Whether a notice begins with what matters: hazard and first action in sixty words, all named who can be hurt."""

from collections.abc import Iterator, Mapping

from audiences.findings import Finding, Severity
from notices.wording.counting import sentences
from notices.wording.passages import Passage, Reading
from notices.wording.splitting import family, words_of

FIRST_WORDS = 60
_CUSTOM = "common practice, no source"
# After the headline and the signal word, in the order of the notice.
_OPENING = ("now.headline", "hazard.what", "hazard.who")

# Who reads, and how others are named, by the beginning of a word; small lists, so that nothing is held back by them.
_READER: Mapping[str, frozenset[str]] = {
    language: words_of(words)
    for language, words in {
        "de": "sie ihnen ihr ihre ihren",
        "en": "you your yourself",
        "es": "usted ustedes su sus le",
        "fr": "vous votre vos",
        "it": "lei voi suo sua",
        "nl": "u uw",
        "pl": "pan pani pana panią państwo państwa państwu",
    }.items()
}
_OTHERS: Mapping[str, tuple[str, ...]] = {
    language: tuple(words.split())
    for language, words in {
        "de": "alle andere baby bewohner dritte fahrer familie gäste jede jugendliche kind kleinkind leute mensch"
        " mieter mitfahr nachbar niemand nutzer passant person radfahrer säugling umstehende wer",
        "en": "adult all anybody anyone baby babies bystander child cyclist driver everybody everyone famil guest"
        " infant kid men neighbo nobody other passenger patient pedestrian people person pet rider somebody someone"
        " tenant toddler user visitor whoever women worker",
        "es": "adult alguien bebé ciclista cualquier familia gente lactante niñ nadie otr pasajer peat person quien"
        " tercer todos usuari vecin",
        "fr": "adulte autre bébé chacun cycliste enfant famille gens nourrisson passager passant personne piéton"
        " quiconque tiers tous utilisateur voisin",
        "it": "adult altr bambin chi chiunque ciclist famigli neonat nessuno passegger pedon person terzi tutti utent"
        " vicin",
        "nl": "ander baby fietser gebruiker gezin iedereen iemand kind kinderen mensen niemand omstander passagier"
        " peuter personen persoon voetganger wie",
        "pl": "dorosł dzieck dziec inn każd ktokolwiek ludz niemowl nikt osob osób pasażer pieszy pieszych rodzin"
        " rowerzyst sąsiad użytkowni wszys",
    }.items()
}


def late_hazards(reading: Reading) -> Iterator[Finding]:
    """Hold that headline, signal word, first action, hazard and who can be hurt take sixty words at most."""
    for tag in reading.languages:
        there = {passage.path: passage for passage in reading.passages(tag)}
        count = 1 + max((_words(one) for one in there.values() if _is_headline(one, reading)), default=0)
        for passage in (there[path] for path in _OPENING if path in there):
            count += _words(passage)
            if count > FIRST_WORDS:
                yield Finding(
                    code="hazard-late",
                    **passage.where,
                    message=f"an owner has read {count} words where this ends; many read no more than the first"
                    f" {FIRST_WORDS}",
                    mend="say in fewer words what to do, what can happen and who can be hurt; the rest can come later",
                    severity=Severity.CONSIDER,
                    source=_CUSTOM,
                )
                break


def _is_headline(passage: Passage, reading: Reading) -> bool:
    if reading.warning:
        return passage.path == "warning_headline"
    return passage.path.startswith("markets.") and passage.path.endswith(".headline")


def _words(passage: Passage) -> int:
    return sum(len(one.words) for one in sentences(passage.text, passage.language))


def unnamed_persons(reading: Reading) -> Iterator[Finding]:
    """Name a text on who can be hurt that names nobody, or the reader alone, as far as short lists of words tell."""
    for passage in reading.passages():
        language = family(passage.language)
        if passage.path != "hazard.who" or language not in _OTHERS:
            continue
        words = {word.lower() for one in sentences(passage.text, passage.language) for word in one.read}
        if any(word.startswith(_OTHERS[language]) for word in words):
            continue
        reader = words & _READER[language]
        yield Finding(
            code="who-reader-alone" if reader else "who-nobody",
            **passage.where,
            message="only the reader is named as one who can be hurt"
            if reader
            else "nobody that we know a word for is named as one who can be hurt",
            mend="name everyone: who uses it, children, who is carried, who is near",
            severity=Severity.CONSIDER,
            source=_CUSTOM,
        )
