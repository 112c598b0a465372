"""A code written by its layout: the inverse of reading."""

from collections.abc import Mapping, Sequence

from audiences import gs1
from audiences.builds import build_of
from audiences.check_characters import check_signs
from audiences.parts import Part, written


def printed(parts: Sequence[Part], fields: Mapping[str, str | int]) -> str:
    """Return the code of a build with these *fields*, its check characters worked out.

    A check that cannot count its signs is left out; the field values must be such as the layout reads.
    """
    build = build_of(parts)
    cut = [step.part.text or written(step.part, fields.get(step.part.name, "")) for step in build.steps]
    for at in build.checks:
        keys = [
            step.texts[0] if step.part.text else signs for step, signs in zip(build.steps, cut, strict=True)
        ]
        cut[at] = check_signs(build.steps[at].part.scheme, build.counted(at, keys)) or ""
    if not build.marked:
        return "".join(cut)
    found: dict[str, str] = {}
    for step, signs in zip(build.steps, cut, strict=True):
        found[step.part.element] = found.get(step.part.element, "") + signs
    return gs1.bracketed(found)
