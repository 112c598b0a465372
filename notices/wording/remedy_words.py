"""By which words a fault of a remedy is found, language by language; no source: they are ours, and show what to read.

A language that is not in a table is let pass. ``.`` ends a sentence, so that no pattern reaches over it.
"""

import re
from collections.abc import Mapping

Words = Mapping[str, re.Pattern[str]]


def _words(**languages: str) -> Words:
    return {language: re.compile(pattern, re.IGNORECASE) for language, pattern in languages.items()}


OWNER_PAYS = _words(
    ar=r"على (?:حسابك|حسابكم|نفقتك|نفقتكم)|(?:تدفع|تتحمل)(?:ون|وا)? (?:تكاليف|تكلفة|رسوم|أجرة)",
    de=r"(?<!nicht )(?:auf (?:Ihre|eigene) Kosten|zu Ihren Lasten)|Sie (?:tragen|zahlen|bezahlen"
    r"|übernehmen) (?:(?:die|das|den) )?(?:\w*porto|versand|rücksend|transport|fracht|kosten)"
    r"|(?:porto|\w*kosten) (?:tragen|zahlen|übernehmen) Sie",
    en=r"(?<!not )at your (?:own )?(?:expense|cost)|you (?:pay|cover|bear) (?:for )?(?:(?:the|return"
    r"|all|your) )*(?:postage|shipping|return|transport|carriage|delivery|freight|work|parts)"
    r"|(?:postage|shipping|transport)(?: costs?)? (?:is|are) (?:yours|not (?:included|covered"
    r"|refunded))|shipping charges apply",
    es=r"(?<!no )(?:a su cargo|a su costa)|usted paga (?:(?:el|los|la) )?(?:env|port|gastos|transport"
    r"|devol)",
    fr=r"à vos frais|à votre charge|vous (?:payez|supportez) (?:les frais|le port|l.envoi|le retour"
    r"|le transport)",
    it=r"a (?:suo|vostro) carico|a (?:sue|vostre) spese|(?:lei|voi) paga\w* (?:(?:la|le|il) )?(?:sped"
    r"|trasport|port|reso)",
    nl=r"(?<!niet )(?:op (?:uw|eigen) kosten|voor uw rekening)|u betaalt (?:(?:de|het) )?(?:verzend"
    r"|port|retour|transport)",
    pl=r"na (?:państwa|własny|twój|swój) koszt|koszt\w* (?:przesyłki|wysyłki|zwrotu"
    r"|transportu) (?:ponos|pokrywa|płac)\w*",
)
LESS_MONEY = _words(
    ar=r"جزء من (?:الثمن|السعر)|استرداد جزئي|بعد خصم",
    de=r"abzüglich|(?:ein(?:en)? )?teil des (?:kauf)?preises|zeitwert|teilweise erstatt|\b\d\d? ?(?:%"
    r"|prozent) des (?:kauf)?preises",
    en=r"\bminus\b|\bless (?:a|the|wear|what)\b|part of the price|partial refund|current value"
    r"|depreciat|\b\d\d? ?(?:%|percent|per cent) of (?:the |your )?(?:purchase )?price",
    es=r"parte del precio|reembolso parcial|valor actual|descontad|\b\d\d? ?% del precio",
    fr=r"partie du prix|remboursement partiel|vétusté|déduction|\b\d\d? ?% du prix",
    it=r"parte del prezzo|rimborso parziale|valore attuale|al netto|\b\d\d? ?% del prezzo",
    nl=r"deel van de prijs|gedeeltelijk|onder aftrek|dagwaarde|\b\d\d? ?(?:%|procent) van de prijs",
    pl=r"część ceny|częściow\w+ zwrot|pomniejszon|po potrąceniu|\b\d\d? ?% ceny",
)
CLAIM_BY = _words(
    ar=r"(?:قبل|حتى|في موعد أقصاه) (?:يوم )?\d",
    de=r"\b(?:bis (?:zum|spätestens(?: zum)?)|spätestens (?:am|bis(?: zum)?)) \d",
    en=r"\b(?:by|before|until|no later than) (?:the )?(?:\d|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct"
    r"|nov|dec)\w* \d)|\b(?:claim|apply|register|ask for it|reply)\b[^.]{0,40}\bwithin \d|offer ends"
    r"|expires",
    es=r"\b(?:antes del|hasta el|a más tardar el) \d",
    fr=r"\b(?:avant le|jusqu.au|au plus tard le) \d",
    it=r"\b(?:entro il|entro e non oltre il|fino al) \d",
    nl=r"\b(?:vóór|voor|tot|uiterlijk)(?: op)? \d{1,2} [a-z]+",
    pl=r"\b(?:do|przed) (?:dnia )?\d{1,2}[. ](?:\d|[a-ząćęłńóśźż]+a\b)",
)
BRING_IT = _words(
    ar=r"أحضر|اجلب|أحضروا",
    de=r"\bbringen Sie\b[^.]{0,60}\b(?:zu|in|ins|zum|zur)\b|\bfahren Sie (?:damit |mit \w+ \w+ )?(?:zu"
    r"|in|zum|zur)\b",
    en=r"(?<!not )(?<!never )\b(?:bring|ride|drive|cycle) (?:it|the|your)\b[^.]{0,50}\b(?:to|in)\b",
    es=r"(?<!no )\b(?:tráiga|lléve)l[oa]\b|(?<!no )\b(?:traiga|lleve) (?:el|la|su)\b",
    fr=r"\b(?:apportez|amenez|rapportez|ramenez)\b",
    it=r"\b(?:porti|portate|portatelo|riporti|riportate)\b",
    nl=r"\bbreng(?:t)? (?:hem|het|de|uw)\b",
    pl=r"\b(?:przywieź|przywieźć|przywieźcie|przynieś|przynieść|przynieście)\b",
)
BY_POST = _words(
    ar=r"(?:أرسل|أعد)\w* [^.]{0,30}بالبريد",
    de=r"\b(?:schicken|senden|sende?t) Sie\b[^.]{0,50}\b(?:zurück|ein|uns)\b|per post zurück",
    en=r"\b(?:post|mail|send|ship|return) (?:it|the|your)\b[^.]{0,40}\b(?:back|to us|by post|by mail)\b",
    es=r"\b(?:envíe|envie|devuelva)\w*[^.]{0,40}(?:por correo|paquete)",
    fr=r"\b(?:envoyez|renvoyez|retournez)[^.]{0,40}(?:poste|colis|courrier)",
    it=r"\b(?:spedisca|invii|rispedisca)\w*[^.]{0,40}(?:posta|pacco|indietro)",
    nl=r"\b(?:stuur|zend)\b[^.]{0,40}\b(?:terug|per post|op)\b",
    pl=r"\b(?:odeślij|wyślij|odesłać|wysłać)[^.]{0,40}(?:poczt|paczk)",
)
NOT_POSTED = _words(
    ar=r"ليثيوم|بطارية|خرطوشة|غاز|بخاخ",
    de=r"lithium|akku|kartusche|gasflasche|spraydose|feuerlöscher|munition",
    en=r"lithium|power ?bank|batter(?:y|ies)|cartridge|gas bottle|aerosol|extinguisher|fireworks?",
    es=r"litio|batería|cartucho|bombona|aerosol",
    fr=r"lithium|batterie|cartouche|bouteille de gaz|aérosol",
    it=r"litio|batteri|cartucci|bombol|aerosol",
    nl=r"lithium|accu|batterij|patroon|gasfles|spuitbus",
    pl=r"litow|akumulator|bateri|kartusz|butla|aerozol",
)
THROWN_AWAY = _words(
    ar=r"تخلص(?:وا)? من",
    de=r"\bentsorgen Sie|\bwerfen Sie\b[^.]{0,40}\bweg\b|\bvernichten Sie",
    en=r"(?<!not )(?<!never )\b(?:throw (?:it|the \w+|your \w+) away|dispose of (?:it|the|your)"
    r"|discard (?:it|the|your)|destroy (?:it|the|your))",
    es=r"(?<!no )\b(?:tírelo|tire el|tire la|deseche|destruya)\w*",
    fr=r"\b(?:jetez|détruisez)\b",
    it=r"\b(?:getti|butti|smaltisca|distrugga)\w*",
    nl=r"\bgooi\b[^.]{0,30}\bweg\b|\bvernietig\b",
    pl=r"\b(?:wyrzuć|wyrzucić|zutylizuj|zniszcz)\w*",
)
LICENSED = _words(
    ar=r"غاز|كهرباء",
    de=r"\bgas\w*|netzspannung|\b230 ?v\b|elektrisch\w* leitung|steckdose",
    en=r"\bgas\b|\bmains\b|\bwiring\b|\b(?:120|230|240) ?v\b|wall socket",
    es=r"\bgas\b|\bred eléctrica|\b230 ?v\b|enchufe",
    fr=r"\bgaz\b|\bsecteur\b|\b230 ?v\b",
    it=r"\bgas\b|rete elettrica|\b230 ?v\b",
    nl=r"\bgas\b|netspanning|\b230 ?v\b|stopcontact",
    pl=r"\bgaz\w*|sieci elektr|\b230 ?v\b",
)
WHO_IS_LICENSED = _words(
    ar=r"مؤهل|مرخص|فني",
    de=r"fachkraft|fachbetrieb|fachmann|fachfrau|elektriker|installateur|monteur|zugelassen"
    r"|qualifiziert|mechaniker",
    en=r"qualified|licen[sc]ed|certified|electrician|fitter|plumber|mechanic|engineer",
    es=r"cualificad|autorizad|electricista|instalador|técnic|mecánic",
    fr=r"qualifié|agréé|électricien|installateur|technicien|mécanicien",
    it=r"qualificat|autorizzat|elettricist|installator|tecnic|meccanic",
    nl=r"erkend|gekwalificeerd|bevoegd|elektricien|installateur|monteur|vakman",
    pl=r"uprawni|wykwalifikowan|elektryk|instalator|monter|mechanik|serwisant",
)
MUST_REPAIR = _words(
    ar=r"يجب (?:عليك |عليكم )?(?:إصلاح|تركيب|استبدال)",
    de=r"\bSie müssen\b[^.]{0,50}\b(?:reparieren|einbauen|austauschen|montieren|wechseln)",
    en=r"\byou (?:must|have to|are obliged to|are required to|need to) (?:repair|fit|replace|install|mend)",
    es=r"\b(?:debe|tiene que) (?:reparar|cambiar|montar|instalar|sustituir)",
    fr=r"\bvous devez (?:réparer|remplacer|monter|installer|changer)",
    it=r"\b(?:deve|dovete) (?:riparare|sostituire|montare|installare)",
    nl=r"\bu moet\b[^.]{0,50}\b(?:repareren|vervangen|monteren|inbouwen)",
    pl=r"\b(?:musi|muszą|musisz)\b[^.]{0,30}\b(?:naprawić|wymienić|zamontować)",
)
PROOF = _words(
    ar=r"(?<!بدون )(?:إثبات الشراء|فاتورة الشراء)",
    de=r"(?<!kein )(?<!keinen )(?<!ohne )\b(?:kaufbeleg|kassenbon|kassenzettel|kaufnachweis|quittung)",
    en=r"(?<!no )(?<!without )(?<!without a )\b(?:proof of purchase|(?:sales |original )?receipt)\b",
    es=r"(?<!sin )\b(?:comprobante de compra|justificante de compra|tique|ticket)",
    fr=r"(?<!sans )\b(?:preuve d.achat|ticket de caisse)",
    it=r"(?<!senza )\b(?:prova d.acquisto|scontrino)",
    nl=r"(?<!geen )(?<!zonder )\b(?:aankoopbewijs|kassabon)",
    pl=r"(?<!bez )\b(?:dow[óo]d\w* zakupu|paragon\w*)",
)
TORQUE = re.compile(
    r"\d\s*(?:N[·⋅.\s-]?m|ft[·.\s-]?lbs?|lb[·.\s-]?ft|in[·.\s-]?lbs?|foot[\s-]pounds?|inch[\s-]pounds?|kgf?[·.\s]?c?m|نيوتن)\b",
    re.IGNORECASE,
)
TORQUE_TOOL = re.compile(r"torque|drehmoment|dynamom|dinamom|momentsleutel|momentschl|عزم", re.IGNORECASE)
