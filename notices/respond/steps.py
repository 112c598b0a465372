"""The pages in their order: stopped, the code's last signs, how used, where, which remedy, summary."""

from collections.abc import Callable, Mapping

from audiences.codes import mask
from audiences.segments import Segment, treated_as
from audiences.verdicts import Verdict
from notices.cases.case import Case, Stopped
from notices.compose.phrases import typed_address
from notices.respond.rendering import countries, masked
from notices.respond.scenes import Page, Scene
from notices.wording.catalogues import msgid
from notices.wording.formats import colon
from notices.work import telling
from notices.work.answering import read_unit
from notices.work.answers import Proof, Standing
from notices.work.claiming import Claim, link_for, new_claim
from notices.work.confirming import may_take_back

AGAIN = msgid("Please type the characters again. They count for two hours.")
PHOTO = "photo"
SEGMENTS = (Segment.UNRIDDEN, Segment.RIDDEN_NO_SYMPTOMS, Segment.SYMPTOMATIC, Segment.UNKNOWN)


def first(scene: Scene) -> Page:
    """Return the first page: hazard and *I have stopped*, or what holds where there is nothing to stop."""
    visit = scene.visit
    if visit is None or visit.awaited:
        return Page(template="start", step="first")
    units = [_line(scene, each) for each in visit.standings]
    if not visit.standings:
        return Page(template="gone_already", step="first")
    if all(each.case.verdict == Verdict.CLEARED for each in visit.standings):
        return code(scene)  # nobody is told that it may be used before the code has been compared
    if all(each.case.ending == "fixed" for each in visit.standings):
        back = any(may_take_back(each, scene.now) for each in visit.standings)
        return Page(template="fixed_already", step="first", values={"units": units, "may_take_back": back})
    return Page(template="first", step="first", values={"units": units})


def _line(scene: Scene, standing: Standing) -> dict[str, str]:
    return {"code": masked(scene, standing.unit), "reference": standing.unit.unit_id}


def code(scene: Scene, *, pressed: bool = False) -> Page:
    """Ask for the last signs of the code, or for the family name where we have no code."""
    visit = scene.visit
    if visit is None or visit.awaited:
        return first(scene)
    values = {**asked_signs(scene), "pressed": pressed, "photo": _photo(scene)}
    return Page(template="code", step="code", values=values)


def asked_signs(scene: Scene) -> dict[str, object]:
    """Return which signs a reader is asked for: how many of which codes, and whether a family name serves."""
    standings = scene.visit.standings if scene.visit else ()
    codes = [masked(scene, each.unit) for each in standings if each.unit.code]
    counts = {text.count("·") for text in codes}
    uncoded = "none" if len(codes) == len(standings) else "some" if codes else "all"
    return {"codes": codes, "uncoded": uncoded, "signs": counts.pop() if len(counts) == 1 else 0}


def _photo(scene: Scene, unit_id: str = "") -> str:
    """Return the reference to write beside a photo: the one unit's that can be meant."""
    standings = scene.visit.standings if scene.visit else ()
    return unit_id or (standings[0].unit.unit_id if len(standings) == 1 else "")


def photo(scene: Scene) -> Page:
    """Ask for a photograph of the code; who has no link, or no unit by it, says who that is too."""
    sent = None if scene.served else scene.claim or new_claim(scene.world, None)
    proof = scene.proof if scene.served else None
    values: dict[str, object] = {"way": PHOTO, "needed": () if scene.served else ("name", "phone")}
    return Page(template="photo", step=PHOTO, proof=proof, claim=sent, values=values)


def whole() -> Page:
    """Ask for a whole code: another one than ours, or one of somebody who has no link."""
    return Page(template="whole", step="whole", values={"photo": ""})


def checked(scene: Scene, claim: Claim, verdict: Verdict, *, near: bool) -> Page:
    """Say what a whole code means, and ask who has the unit."""
    doubtful = near or verdict not in {Verdict.AFFECTED, Verdict.CLEARED}
    values = {
        "verdict": verdict.value,
        "near": near,
        "doubtful": doubtful,
        "cleared": verdict is Verdict.CLEARED and not near,
        "photo": claim.unit_id,
        "countries": countries(scene),
    }
    return Page(template="claim", step="claim", claim=claim, values=values)


def unit_page(scene: Scene, name: str, proof: Proof | None) -> Page:
    """Return one of the pages behind the signs; without the proof ask for the signs again."""
    shown = read_unit(scene.world, proof) if proof else None
    if proof is None or shown is None:
        again = code(scene) if scene.visit else whole()
        return again.saying(scene.ours(AGAIN))
    return _UNIT_PAGES[name](scene, proof, shown.standing if shown.mine else _blank(shown.standing))


def _blank(standing: Standing) -> Standing:
    """Return another's unit as a stranger may see it: the code that was typed, and nothing that its holder said."""
    case = Case(unit_id=standing.case.unit_id, verdict=standing.case.verdict)
    return Standing(unit=standing.unit, case=case, kinds=frozenset({"contact_given"}))


def after_signs(scene: Scene, proof: Proof) -> Page:
    """Return the first page that this reader has not answered yet."""
    shown = read_unit(scene.world, proof)
    return first(scene) if shown is None else unit_page(scene, _next(scene, shown.standing), proof)


def _next(scene: Scene, standing: Standing) -> str:
    if not standing.unit.code and not _asked(standing):
        return "unitcode"
    if standing.case.verdict == Verdict.CLEARED:
        return "cleared"
    wanted = {"use_stated": "use", "contact_given": "place"}
    if scene.campaign.remedies:
        wanted["remedy_chosen"] = "remedy"
    return next((page for kind, page in wanted.items() if kind not in standing.kinds), "summary")


def _asked(standing: Standing) -> bool:
    """Say whether the owner has already been asked for the code of a unit that the lists know without one."""
    return "use_stated" in standing.kinds or any(
        event.kind == "answer_set_aside" and event.payload.get("of") == "code_given"
        for event in standing.events
    )


def _values(scene: Scene, standing: Standing) -> dict[str, object]:
    case = standing.case
    return {
        "code": masked(scene, standing.unit),
        "reference": standing.unit.unit_id,
        "verdict": case.verdict or Verdict.MISSING.value,
        "steps": scene.campaign.now.steps_for(case.segment),
        "segment": case.segment.value,
        "in_use": case.stopped is Stopped.IN_USE,
    }


def _unit_code(scene: Scene, proof: Proof, standing: Standing) -> Page:
    values = {**_values(scene, standing), "photo": standing.unit.unit_id}
    return Page(template="unitcode", step="unitcode", proof=proof, values=values)


def _use(scene: Scene, proof: Proof, standing: Standing) -> Page:
    use = scene.campaign.use
    answers = [
        (segment.value, scene.lead(getattr(use, segment.value).answer))
        for segment in SEGMENTS
        if getattr(use, segment.value).answer
    ]
    if not answers:
        return _place(scene, proof, standing)
    values = {**_values(scene, standing), "answers": answers}
    return Page(template="use", step="use", proof=proof, values=values)


def _place(scene: Scene, proof: Proof, standing: Standing) -> Page:
    given = "contact_given" in standing.kinds
    values = {**_values(scene, standing), "phone_needed": not given}
    return Page(template="place", step="place", proof=proof, values=values)


def _remedy(scene: Scene, proof: Proof, standing: Standing) -> Page:
    choices = telling.offered(scene.campaign, standing)
    if not choices:
        return _summary(scene, proof, standing)
    values = {**_values(scene, standing), "choices": _choices(scene, standing, choices)}
    return Page(template="remedy", step="remedy", proof=proof, values=values)


_FITTERS: Mapping[str, str] = {
    "": "",
    "mechanic": msgid("A mechanic does it"),
    "workshop": msgid("The workshop does it"),
    "owner": msgid("I do it myself"),
}


def _choices(scene: Scene, standing: Standing, choices: list[tuple[str, str]]) -> list[dict[str, str]]:
    segment = treated_as(standing.case.segment)
    found = []
    for key, by in choices:
        remedy = (scene.campaign.remedies or {})[key]
        own = remedy.for_segment(segment)
        label = scene.lead(remedy.label) or key
        fitter = _FITTERS.get(by, "")
        found.append(
            {
                "value": f"{key}/{by}" if by else key,
                "label": f"{label}{colon(scene.tag)} {scene.ours(fitter)}" if fitter else label,
                "promise": scene.lead(own.promise) if own else "",
            }
        )
    return found


def _summary(scene: Scene, proof: Proof, standing: Standing) -> Page:
    campaign = scene.campaign
    chosen = next(
        (event.payload for event in reversed(standing.events) if event.kind == "remedy_chosen"), None
    )
    remedy = (campaign.remedies or {}).get(str(chosen["remedy"])) if chosen else None
    own = remedy.for_segment(treated_as(standing.case.segment)) if remedy else None
    use = getattr(campaign.use, standing.case.segment.value)
    values = {
        **_values(scene, standing),
        "mine": proof.owner_id is not None,
        "use_name": scene.lead(use.name) if proof.owner_id else "",
        "remedy": scene.lead(remedy.label) if remedy else "",
        "promise": scene.lead(own.promise) if own else "",
        "others": _others(scene, proof),
        "link": _own_address(scene, proof),
    }
    return Page(template="summary", step="summary", proof=proof, values=values)


def _own_address(scene: Scene, proof: Proof) -> str:
    """Return the personal address of somebody who came without one, as it is typed."""
    answers = scene.campaign.issuer.answers
    link = link_for(scene.world, proof) if scene.visit is None and answers else None
    return f"{typed_address(answers or '')}/{link}" if link else ""


def _others(scene: Scene, proof: Proof) -> int:
    if scene.visit is None:
        return 0
    return sum(
        each.unit.unit_id != proof.unit_id
        and each.case.ending is None
        and each.case.verdict != Verdict.CLEARED
        and "use_stated" not in each.kinds
        for each in scene.visit.standings
    )


def _cleared(scene: Scene, proof: Proof, standing: Standing) -> Page:
    shown = mask(standing.unit.code, scene.hidden) if standing.unit.code else ""
    line = {"code": shown, "reference": standing.unit.unit_id}
    values = {"units": [line], "reference": standing.unit.unit_id}
    return Page(template="cleared", step="cleared", proof=proof, values=values)


_UNIT_PAGES: Mapping[str, Callable[[Scene, Proof, Standing], Page]] = {
    "unitcode": _unit_code,
    "use": _use,
    "place": _place,
    "remedy": _remedy,
    "summary": _summary,
    "cleared": _cleared,
}
UNIT_STEPS = frozenset(_UNIT_PAGES)
