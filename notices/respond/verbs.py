"""What a form does: each verb records one answer and returns the next page itself, with no redirect."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.respond import steps
from notices.respond.forms import has_digits
from notices.respond.scenes import Page, Scene
from notices.wording.catalogues import msgid
from notices.work import answering, claiming, telling
from notices.work.answering import Fit
from notices.work.claiming import Claimant
from notices.work.telling import Reach

NEEDED = msgid("Please fill this in.")
NUMBER_NEEDED = msgid("Please type a telephone number with its area code.")
BAD_MAIL = msgid("This e-mail address cannot be right. Please check it.")
_OF_FIT: Mapping[Fit, str] = {
    Fit.WRONG: msgid("These are not the characters in our records. Please look once more."),
    Fit.SEVERAL: msgid("Two of yours end alike. Please type the whole code."),
    Fit.TOO_MANY: msgid("Too many tries today. Please contact us, or let us call you."),
}


def stop(scene: Scene) -> Page:
    """Take *I have stopped*: the one form that needs nothing typed."""
    if scene.link is None:
        return steps.first(scene)
    answering.press_stopped(scene.world, scene.link, scene.said)
    return steps.code(scene, pressed=True)


def in_use(scene: Scene) -> Page:
    """Take *I cannot stop using it yet*: show the page that asks for a number, or record the number."""
    number = scene.form.line("phone")
    asked = Page(template="in_use", step="in_use")
    if scene.link is None or not scene.form.token("sent"):
        return asked
    if not has_digits(number):
        return replace(asked, values={"kept": {"phone": number}}).saying(scene.ours(NUMBER_NEEDED))
    answering.still_in_use(scene.world, scene.link, scene.said, number)
    return Page(template="thanks", values={"kind": "in_use", "reference": reference(scene)})


def reference(scene: Scene, unit_id: str = "") -> str:
    """Return the reference to read out: of the unit meant, else of the first of the link's owner."""
    if unit_id or scene.visit is None or not scene.visit.standings:
        return unit_id
    return scene.visit.standings[0].unit.unit_id


def give_signs(scene: Scene) -> Page:
    """Take the last signs; a whole code is judged, and wrong signs are asked for once more."""
    typed = scene.form.line("signs")
    pressed = scene.form.token("pressed") == "yes"
    asked = steps.code(scene, pressed=pressed)
    if scene.link is None:
        return steps.first(scene)
    if not typed:
        return asked.saying(scene.ours(NEEDED))
    given = answering.give_signs(scene.world, scene.link, scene.said, typed, pressed=pressed)
    if given is None:
        return steps.first(scene)
    if given.fit is Fit.WHOLE:
        return check_whole(scene, typed)
    if given.proof is None:
        return asked.saying(fit_fault(scene, given.fit))
    return steps.after_signs(scene, given.proof)


def fit_fault(scene: Scene, fit: Fit) -> str:
    """Return what to tell a reader whose signs were no proof."""
    return scene.ours(_OF_FIT.get(fit, _OF_FIT[Fit.WRONG]))


def check(scene: Scene) -> Page:
    """Take a whole code, with a link or without, and say what it means."""
    typed = scene.form.line("code")
    if not typed:
        asked = steps.whole() if scene.link or scene.form.token("again") else steps.first(scene)
        return asked.saying(scene.ours(NEEDED))
    return check_whole(scene, typed)


def check_whole(scene: Scene, typed: str) -> Page:
    """Judge a whole code by the signed revision; the reader's own unit goes on as with its last signs."""
    found = claiming.check_code(scene.world, scene.link, scene.said, typed)
    if found.too_many:
        return steps.whole().saying(fit_fault(scene, Fit.TOO_MANY))
    if found.proof is not None and scene.link is not None:
        given = answering.give_signs(scene.world, scene.link, scene.said, typed, pressed=False)
        if given is not None and given.proof is not None:
            return steps.after_signs(scene, given.proof)
    return steps.checked(scene, found.claim, found.verdict, near=found.near)


def claim(scene: Scene) -> Page:
    """Take who has a unit that came without a link."""
    sent = scene.claim
    if sent is None:
        return steps.whole().saying(scene.ours(steps.AGAIN))
    judged = claiming.judge_claim(scene.world, sent)
    asked = steps.checked(scene, sent, judged.verdict, near=judged.near)
    who = claimant(scene)
    kept = {"name": who.name, "phone": who.reach.phone, "email": who.reach.email, "country": who.country}
    asked = replace(asked, values={**asked.values, "kept": kept})
    if not who.name or not (who.reach.phone or who.reach.email):
        return asked.saying(scene.ours(NEEDED))
    stopped = {"yes": True, "no": False}.get(scene.form.token("stopped"))
    taken = claiming.take_claim(scene.world, scene.said, sent, who, stopped=stopped)
    if taken.faulty:
        return asked.saying(scene.ours(point_fault(taken.faulty[0].channel)))
    if taken.proof is None:
        return asked
    cleared = judged.verdict is Verdict.CLEARED and not judged.near
    if cleared or stopped is False:
        kind = "in_use" if stopped is False else "changes"
        return Page(template="thanks", values={"kind": kind, "reference": taken.proof.unit_id})
    return steps.unit_page(scene, "use", taken.proof)


def claimant(scene: Scene) -> Claimant:
    """Return who speaks, as typed; a country that we do not know is none."""
    form = scene.form
    country = form.line("country").upper()
    known = len(country) == 2 and country.isascii() and country.isalpha()  # noqa: PLR2004 - ISO 3166-1 alpha-2
    reach = Reach(place=form.text("place"), phone=form.line("phone"), email=form.line("email"))
    return Claimant(
        name=form.line("name"),
        reach=reach,
        country=country if known else None,
        language=scene.tag,
        link=scene.link,
    )


def point_fault(channel: str) -> str:
    """Return what to mend in a contact point that cannot be used."""
    return BAD_MAIL if channel == "email" else NUMBER_NEEDED


def unit_code(scene: Scene) -> Page:
    """Take the code of a unit that the lists know without one; *skip* says that it cannot be found."""
    proof = scene.proof
    if proof is None:
        return steps.unit_page(scene, "unitcode", proof)
    if scene.form.token("skip"):
        return steps.unit_page(scene, "use", proof)
    typed = scene.form.line("code")
    asked = steps.unit_page(scene, "unitcode", proof)
    if not typed:
        return asked.saying(scene.ours(NEEDED))
    verdict = telling.give_code(scene.world, proof, scene.said, typed)
    if verdict is Verdict.CLEARED:
        return steps.unit_page(scene, "cleared", proof)
    if verdict in {Verdict.MISSING, Verdict.UNREADABLE} and not scene.form.token("twice"):
        text = scene.lead(scene.campaign.now.near) or scene.lead(scene.campaign.now.other_code)
        return replace(asked, values={**asked.values, "twice": True}).saying(text)
    return steps.unit_page(scene, "use", proof)


def use(scene: Scene) -> Page:
    """Take how it was used; *not sure* counts as with symptoms."""
    proof = scene.proof
    said = scene.form.token("use")
    known = {segment.value for segment in steps.SEGMENTS}
    if proof is None or said not in known:
        return steps.unit_page(scene, "use", proof)
    segment = Segment.SYMPTOMATIC if said == Segment.UNKNOWN else Segment(said)
    telling.state_use(scene.world, proof, scene.said, segment)
    return steps.unit_page(scene, "place", proof)


def place(scene: Scene) -> Page:
    """Take where it is and how to reach its owner."""
    proof = scene.proof
    asked = steps.unit_page(scene, "place", proof)
    if proof is None:
        return asked
    form = scene.form
    reach = Reach(place=form.text("place"), phone=form.line("phone"), email=form.line("email"))
    kept = {"place": reach.place, "phone": reach.phone, "email": reach.email}
    asked = replace(asked, values={**asked.values, "kept": kept})
    if not reach.place or (asked.values.get("phone_needed") and not (reach.phone or reach.email)):
        return asked.saying(scene.ours(NEEDED))
    faulty = telling.give_contact(scene.world, proof, scene.said, reach)
    if faulty:
        return asked.saying(scene.ours(point_fault(faulty[0].channel)))
    return steps.unit_page(scene, "remedy", proof)


def remedy(scene: Scene) -> Page:
    """Take which remedy the owner wants, and who shall fit it."""
    proof = scene.proof
    if proof is None:
        return steps.unit_page(scene, "remedy", proof)
    key, _, by = scene.form.token("remedy").partition("/")
    if not telling.choose_remedy(scene.world, proof, scene.said, key, by=by):
        return steps.unit_page(scene, "remedy", proof)
    return steps.unit_page(scene, "summary", proof)


def show(scene: Scene) -> Page:
    """Show a page once more, in another language perhaps; nothing is recorded."""
    step = scene.form.token("step")
    if step in steps.UNIT_STEPS:
        return steps.unit_page(scene, step, scene.proof)
    if step == "claim" and scene.claim is not None:
        judged = claiming.judge_claim(scene.world, scene.claim)
        return steps.checked(scene, scene.claim, judged.verdict, near=judged.near)
    if step == "code":
        return steps.code(scene, pressed=scene.form.token("pressed") == "yes")
    return _PLAIN.get(step, steps.first)(scene)


_PLAIN: Mapping[str, Callable[[Scene], Page]] = {
    "whole": lambda _scene: steps.whole(),
    steps.PHOTO: steps.photo,
    "in_use": lambda _scene: Page(template="in_use", step="in_use"),
}


VERBS: Mapping[str, Callable[[Scene], Page]] = {
    "stop": stop,
    "in_use": in_use,
    "signs": give_signs,
    "check": check,
    "claim": claim,
    "unit_code": unit_code,
    "use": use,
    "place": place,
    "remedy": remedy,
    "show": show,
}
