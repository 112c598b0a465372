"""The ways out of every page: hurt, call me, large print, a helper, no code, no longer mine, another one, fixed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from notices.respond import photographs, steps, verbs
from notices.respond.forms import has_digits
from notices.respond.scenes import Page, Scene
from notices.wording.catalogues import msgid
from notices.work import claiming, confirming, helping
from notices.work.answering import Fit
from notices.work.confirming import Confirmed, Done, Statement

_ANSWERS = frozenset({"yes", "no", "not_sure"})


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """One way out: what a person is asked to do, and the fields that must be filled."""

    ask: str
    title: str
    needed: tuple[str, ...]
    optional: tuple[str, ...] = ()


WAYS: Mapping[str, Way] = {
    "hurt": Way(
        ask=helping.HURT,
        title=msgid("Someone was hurt, or a part has broken"),
        needed=("phone",),
        optional=("words",),
    ),
    "call": Way(ask=helping.CALL, title=msgid("Please call me"), needed=("phone",), optional=("when",)),
    "print": Way(
        ask=helping.LARGE_PRINT, title=msgid("Send it to me in large print by letter"), needed=("address",)
    ),
    "helper": Way(ask=helping.HELPER, title=msgid("Someone helps me with this"), needed=("helper", "phone")),
    "nocode": Way(ask=helping.NO_CODE, title=msgid("I cannot find it or cannot read it"), needed=("phone",)),
}
_LINES = frozenset({"phone", "when", "helper", "name"})


def show(scene: Scene, name: str) -> Page | None:
    """Return the page of a way out, None where there is none of this name; showing it changes nothing."""
    if name in WAYS:
        return _help_page(scene, name)
    if name == "another":
        return steps.whole()
    if name == steps.PHOTO:
        return steps.photo(scene)
    if scene.visit is None:
        return None
    if name == "gone":
        return Page(template="gone", values={"way": "gone"})
    return _fixed_page(scene) if name == "fixed" else None


def send(scene: Scene, name: str) -> Page | None:
    """Record what was sent on the page of a way out, and return the next page."""
    if name in WAYS:
        return _help(scene, name)
    if name == "another":
        return verbs.check(scene)
    if name == steps.PHOTO:
        return photographs.take(scene)
    if scene.link is None or scene.visit is None:
        return None
    if name == "gone":
        return _gone(scene, scene.link)
    return _fixed(scene, scene.link) if name == "fixed" else None


def _help_page(scene: Scene, name: str) -> Page:
    way = WAYS[name]
    sent = None if scene.served else scene.claim or claiming.new_claim(scene.world, None)
    values = {
        "way": name,
        "title": scene.ours(way.title),
        "needed": _needed(scene, way),
        "optional": way.optional,
        "photo": verbs.reference(scene) if scene.visit else "",
    }
    return Page(template="way", claim=sent, values=values)


def _needed(scene: Scene, way: Way) -> tuple[str, ...]:
    """Return what must be filled in; who has no link, or no unit by it, gives a name too."""
    return way.needed if scene.served else ("name", *way.needed)


def _typed(scene: Scene, names: tuple[str, ...]) -> dict[str, str]:
    return {name: scene.form.line(name) if name in _LINES else scene.form.text(name) for name in names}


def _help(scene: Scene, name: str) -> Page:
    way, asked = WAYS[name], _help_page(scene, name)
    needed = _needed(scene, way)
    typed = _typed(scene, (*needed, *way.optional))
    asked = replace(asked, values={**asked.values, "kept": typed})
    if not all(typed[each] for each in needed):
        return asked.saying(scene.ours(verbs.NEEDED))
    if "phone" in needed and not has_digits(typed["phone"]):
        return asked.saying(scene.ours(verbs.NUMBER_NEEDED))
    unit_id = _ask(scene, way, typed)
    if unit_id is None:
        return asked
    return Page(template="thanks", values={"kind": name, "reference": unit_id})


def _ask(scene: Scene, way: Way, typed: Mapping[str, str]) -> str | None:
    """Record the help that was asked for, with the link's unit or as a case of its own."""
    words = "\n".join(f"{name}: {text}" for name, text in typed.items() if text)
    if scene.link is not None and scene.served:
        return helping.ask_help(scene.world, scene.link, scene.proof, scene.said, what=way.ask, words=words)
    sent = scene.claim or claiming.new_claim(scene.world, None)
    who = verbs.claimant(scene)
    taken = claiming.take_claim(scene.world, scene.said, sent, who, ask=way.ask, words=words)
    return taken.proof.unit_id if taken.proof else None


def _gone(scene: Scene, link: str) -> Page:
    who = scene.form.text("holder")
    if not who:
        asked = Page(template="gone", values={"way": "gone"})
        return asked.saying(scene.ours(verbs.NEEDED))
    helping.pass_on(scene.world, link, scene.said, typed=scene.form.line("signs"), who=who)
    return Page(template="thanks", values={"kind": "gone", "reference": verbs.reference(scene)})


def _fixed_page(scene: Scene) -> Page:
    visit = scene.visit
    standings = visit.standings if visit else ()
    values = {
        **steps.asked_signs(scene),
        "way": "fixed",
        "questions": scene.campaign.confirm.questions,
        "may_take_back": any(confirming.may_take_back(each, scene.now) for each in standings),
        "open": [each for each in standings if each.case.ending != "fixed"],
        "promised": bool(scene.campaign.remedies),
    }
    return Page(template="fixed", values=values)


def _fixed(scene: Scene, link: str) -> Page:
    form, asked = scene.form, _fixed_page(scene)
    typed = form.line("signs")
    if form.token("back"):
        if not typed:
            return asked.saying(scene.ours(verbs.NEEDED))
        return _outcome(scene, asked, confirming.take_back(scene.world, link, scene.said, typed))
    keys = [question.key for question in scene.campaign.confirm.questions]
    answers = {key: form.token(f"q-{key}") for key in keys if form.token(f"q-{key}") in _ANSWERS}
    by = form.token("by") if form.token("by") in confirming.BY else ""
    old_part = form.token("old_part") if form.token("old_part") in {"sent", "taken", "here"} else ""
    kept = {**{f"q-{key}": answer for key, answer in answers.items()}, "by": by, "old_part": old_part}
    asked = replace(asked, values={**asked.values, "kept": kept, "photo_again": bool(form.photos)})
    if not (typed and by and len(answers) == len(keys)):
        return asked.saying(scene.ours(verbs.NEEDED))
    if form.unfit is not None:
        return asked.saying(photographs.fault(scene, form.unfit))
    statement = Statement(by=by, answers=answers, old_part=old_part)
    found = confirming.confirm_fix(scene.world, link, scene.said, typed, statement, photos=form.kept)
    return _outcome(scene, asked, found)


def _outcome(scene: Scene, asked: Page, found: Confirmed | None) -> Page:
    if found is None or found.done is None:
        return asked.saying(verbs.fit_fault(scene, found.fit if found else Fit.WRONG))
    kinds = {
        Done.CLOSED: "closed",
        Done.OPEN: "open",
        Done.NOTHING: "nothing",
        Done.TAKEN_BACK: "taken_back",
        Done.TOO_LATE: "too_late",
    }
    return Page(template="thanks", values={"kind": kinds[found.done], "reference": found.unit_id})
