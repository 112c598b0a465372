"""What no notice says, and what only looks like it, for the tests of the tables of expressions."""

import re
from collections.abc import Callable, Iterator
from functools import cache

from hypothesis import strategies as st

from notices.assembly import expressions
from notices.campaign.loading import load
from notices.wording.expression_tables import Form, Hit, Words, hits, read_words, table_of
from notices.wording.passages import Reading
from tests.stove import WHOLE

_CHOICE = re.compile(r"\{([^{}]*)\}")
_NARROW = {code: code + 0xFEE0 for code in range(0x21, 0x7F)}  # Unicode block FF00: full-width forms

_MARKETS = (
    "  EU: {countries: [IE], headline: Product safety recall}\n"
    "  GB: {countries: [GB], headline: Product safety recall}\n"
)

# Sentences of ours that a notice may well say, each near to a wording that it must not.
INNOCENT = {
    "en": (
        "Beware of an involuntary release of the lever.",
        "Take precautions: wear gloves and keep children away.",
        "This is not just a precaution.",
        "Stop using it so that no accidents happen.",
        "Two links have broken. One rider broke a wrist.",
        "One stove caught fire. Nobody was hurt.",
        "Call us at once if someone was hurt.",
        "Keep a broken part, in any case.",
        "The rear link is not affected.",
        "We do not know yet how long such a link lasts.",
        "In this case, call us.",
        "Minors must not use it.",
        "We offer you a choice: repair, or your money back.",
        "You get back the price you paid.",
        "Do not lend, sell or give it away.",
        "It is about safety, not a sale.",
        "The new model is not affected.",
    ),
    "de": (
        "Der Hebel kann sich unfreiwillig lösen.",
        "Treffen Sie Vorsichtsmaßnahmen und tragen Sie Handschuhe.",
        "Rufen Sie die freiwillige Feuerwehr.",
        "Fahren Sie vorsichtig mit dem Bus.",
        "Der Rückruf ist nicht freiwillig.",
        "Benutzen Sie es nicht, damit keine Unfälle passieren.",
        "Zwei Gelenke sind gebrochen. Eine Fahrerin hat sich verletzt.",
        "Rufen Sie sofort an, wenn jemand verletzt wurde.",
        "In diesem Fall rufen Sie uns an.",
        "Ein Kind im Kasten kann sterben.",
        "Der Bruch kommt nicht selten ohne Vorzeichen.",
        "Wir bieten Ihnen die Wahl: Reparatur oder Geld zurück.",
        "Sie bekommen den Preis zurück, den Sie bezahlt haben.",
        "Das neue Modell ist nicht betroffen.",
    ),
    "fr": (
        "Le levier peut se desserrer de façon involontaire.",
        "Prenez vos précautions : portez des gants.",
        "Appelez les sapeurs-pompiers volontaires.",
        "N'utilisez plus le vélo, pour qu'aucun accident ne se produise.",
        "Une biellette a cassé. Personne n'a été blessé.",
        "Appelez-nous si quelqu'un a été blessé.",
        "La couleur de l'étiquette est facultative.",
        "Nous vous offrons le choix : réparation ou remboursement.",
        "Il n'est pas rare que la pièce casse sans signe.",
        "Le son change dans les virages.",
        "Remettez la pièce au mécanicien.",
    ),
    "es": (
        "La palanca puede soltarse de forma involuntaria.",
        "Tome precauciones: use guantes.",
        "Llame a los bomberos voluntarios.",
        "Deje de usarla para que no haya accidentes.",
        "Se ha roto una pieza. Nadie ha resultado herido.",
        "Llámenos si alguien se ha hecho daño.",
        "Le ofrecemos elegir: reparación o dinero.",
        "Le devolvemos el precio que pagó.",
        "En este caso, llámenos.",
    ),
    "it": (
        "La leva può allentarsi in modo involontario.",
        "Prenda precauzioni: usi i guanti.",
        "Chiami i vigili del fuoco volontari.",
        "Non la usi, affinché nessun incidente accada.",
        "Un pezzo si è rotto. Nessuno si è fatto male.",
        "Ci chiami se qualcuno si è fatto male.",
        "Le offriamo la scelta: riparazione o rimborso.",
        "Le rimborsiamo il prezzo che ha pagato.",
        "In questo caso ci chiami.",
    ),
    "nl": (
        "De hendel kan onvrijwillig losraken.",
        "Neem voorzorgsmaatregelen: draag handschoenen.",
        "Bel de vrijwillige brandweer.",
        "Rijd niet, zodat er geen ongelukken gebeuren.",
        "Er is een stang gebroken. Niemand is gewond geraakt.",
        "Bel ons als iemand gewond is.",
        "Wij bieden u de keuze: reparatie of geld terug.",
        "U krijgt de prijs terug die u hebt betaald.",
        "In dit geval belt u ons.",
    ),
    "pl": (
        "Dźwignia może puścić niedobrowolnie.",
        "Proszę zachować ostrożność i założyć rękawice.",
        "Część złamała się. Nikt nie odniósł obrażeń.",
        "Proszę zadzwonić, jeśli ktoś został ranny.",
        "Proszę nie jeździć, aby nie doszło do wypadków.",
        "Oferujemy Państwu wybór: naprawa albo zwrot pieniędzy.",
        "Zwracamy cenę, którą Państwo zapłacili.",
        "Część pęka nierzadko bez żadnych oznak.",
        "Ci, którzy jeżdżą, są w niebezpieczeństwie.",
    ),
    "ar": (
        "قد ينفلت الذراع بشكل غير طوعي.",
        "احذروا وارتدوا القفازات.",
        "انكسرت قطعة واحدة. ولم يُصب أحد.",
        "اتصلوا بنا إذا أُصيب أحد.",
        "لا تركبوا الدراجة كي لا تقع حوادث.",
        "نرسل إليكم قطع غيار احتياطية.",
        "نعرض عليكم الاختيار: إصلاح أو استرداد.",
    ),
    "pt": (
        "A alavanca pode soltar-se de forma involuntária.",
        "Tome precauções: use luvas.",
        "Chame os bombeiros voluntários.",
        "Não ande, para que não haja acidentes.",
        "Partiu-se uma peça. Ninguém ficou ferido.",
        "Vale a pena olhar duas vezes para o número.",
        "Devolvemos o preço que pagou.",
        "Oferecemos a escolha: reparação ou reembolso.",
    ),
    "sv": (
        "Spaken kan lossna ofrivilligt.",
        "Vidta försiktighetsåtgärder: bär handskar.",
        "Cykla inte, så att inga olyckor händer.",
        "En länk har gått av. Ingen skadades.",
        "Ring oss om någon har skadats.",
        "Vi erbjuder dig att välja: reparation eller pengarna tillbaka.",
        "Felet kommer inte sällan utan tecken.",
    ),
    "da": (
        "Grebet kan løsne sig ufrivilligt.",
        "Tag forholdsregler: brug handsker.",
        "Kør ikke, så der ingen ulykker sker.",
        "Et led er knækket. Ingen kom til skade.",
        "Ring til os, hvis nogen er kommet til skade.",
        "Vi tilbyder dig at vælge: reparation eller pengene tilbage.",
        "Fejlen kommer ikke sjældent uden tegn.",
    ),
    "cs": (
        "Páčka se může uvolnit nedobrovolně.",
        "Dbejte opatrnosti a noste rukavice.",
        "Zavolejte sbor dobrovolných hasičů.",
        "Nejezděte, aby nedošlo k nehodě.",
        "Jeden díl se zlomil. Nikdo nebyl zraněn.",
        "Zavolejte nám, pokud byl někdo zraněn.",
        "Nabízíme vám výběr: opravu nebo vrácení peněz.",
        "Díl praská nezřídka bez příznaků.",
    ),
}


@cache
def table(tag: str) -> Words:
    """Read the shipped table that serves a language."""
    held = table_of(expressions(), tag)
    assert held is not None, tag
    return read_words(held)


@cache
def tags() -> tuple[str, ...]:
    """Return the languages that have a table."""
    return tuple(sorted(expressions().keys() - {"rules"}))


def found(text: str, tag: str) -> tuple[Hit, ...]:
    """Return what the shipped table of a language finds in a text."""
    return hits(text, table(tag))


@st.composite
def planted(draw: st.DrawFn, tag: str) -> tuple[Form, str]:
    """Draw any inflected form of any expression of a language, disguised as typing and mail disguise words."""
    form = draw(st.sampled_from(table(tag).forms))
    said = _spoken(form.expression, lambda options: draw(st.sampled_from(options)))
    return form, draw(st.sampled_from(list(disguises(said))))


def _spoken(expression: str, pick: Callable[[list[str]], str]) -> str:
    chosen = _CHOICE.sub(lambda match: pick(match[1].split("|")), expression)
    chosen = re.sub(r" \.\. ", lambda _match: pick([" ", " so ", " so la ", " so la do "]), chosen)
    return re.sub("~", lambda _match: pick(["", "en", "s"]), chosen)


def disguises(said: str) -> Iterator[str]:
    """Yield a wording as it stands, and in each way in which it looks the same to a reader or nearly so."""
    middle = max(len(said) // 2, 1)
    yield said
    yield said.upper()
    yield said.capitalize()
    yield said.translate(_NARROW)
    yield said.replace(" ", "\N{NO-BREAK SPACE}")
    yield said.replace(" ", "\n    ")
    yield "\N{ZERO WIDTH SPACE}".join(said[:middle]) + said[middle:]
    if said[middle - 1].isalpha() and said[middle : middle + 1].isalpha():
        yield f"{said[:middle]}\N{SOFT HYPHEN}{said[middle:]}"
        yield f"{said[:middle]}-\n  {said[middle:]}"


def a_reading(
    text: str = WHOLE,
    *,
    markets: str = "",
    warning: bool = False,
    translations: dict[str, dict[tuple[str, str], str]] | None = None,
) -> Reading:
    """Return the stove's campaign in some markets, as a recall or as a stop warning."""
    if markets:
        text = text.replace(_MARKETS, f"  X: {{countries: [{markets}], headline: Product safety recall}}\n")
    if warning:
        text = re.sub(r"\nremedies:\n.*?\nfree:", "\nfree:", text, flags=re.DOTALL)
    loaded = load(text)
    assert loaded.campaign is not None, loaded.findings
    return Reading(
        campaign=loaded.campaign,
        lines=loaded.lines,
        translations=translations or {},
        expressions=expressions(),
    )
