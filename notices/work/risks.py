"""How serious it is, by the scenarios in ``risk.toml``."""

from audiences.findings import Finding
from notices.figures import risk_faults, risk_file
from notices.figures.risk import Judged, Risk, risk
from notices.figures.risk_matrix import MATRIX, Level
from notices.figures.risk_starter import STARTER
from notices.work.ports import Folder

CLOSING = (
    "For your file and the authority, never for a notice: owners are told the danger, not a level.",
    "A low level puts nothing off: warn and stop the sale all the same, and report what has happened.",
    "No legal advice: the authority decides.",
)


def judged(folder: Folder) -> tuple[Risk | None, tuple[Finding, ...]]:
    """Return the risk by the file, None where there is none or anything in it must be mended."""
    data = folder.read(risk_file.FILE)
    if data is None:
        return None, (risk_faults.file_missing(risk_faults.Place(file=risk_file.FILE, line=None)),)
    scenarios, findings = risk_file.read(data)
    return (risk(scenarios) if scenarios else None), findings


def begin(folder: Folder) -> bool:
    """Write the file with an invented scenario; leave one that is there as it is, and return False."""
    if folder.read(risk_file.FILE) is not None:
        return False
    folder.write(risk_file.FILE, STARTER.encode())
    return True


def as_json(found: Risk | None) -> dict[str, object]:
    """Return the risk in the shape that other programs read; scenarios and steps count from 1, as in the text."""
    return {
        "level": found.level.word if found else None,
        "decides": [place + 1 for place in found.decides] if found else [],
        "scenarios": [_scenario(one) for one in found.scenarios] if found else [],
        "matrix": {"version": MATRIX.version, "source": MATRIX.source, "mark": MATRIX.mark},
        "closing": " ".join(CLOSING),
    }


def _scenario(one: Judged) -> dict[str, object]:
    scenario = one.scenario
    return {
        "happens": scenario.happens,
        "severity": scenario.severity,
        "severity_reason": scenario.severity_reason,
        "probability": str(one.probability),
        "band": MATRIX.band_words(one.row),
        "level": one.level.word,
        "lowest": one.lowest.word,
        "highest": one.highest.word,
        "one_band": {"down": _word(one.rarer), "up": _word(one.likelier)},
        "one_severity": {"down": _word(one.milder), "up": _word(one.worse)},
        "steps": [
            {
                "happens": step.happens,
                "probability": str(step.probability),
                "reason": step.reason,
                "a_third": tried.lower.word,
                "thrice": tried.higher.word,
                "certain": tried.certain.word,
            }
            for step, tried in zip(scenario.steps, one.steps, strict=True)
        ],
        "decides": [place + 1 for place in one.decides],
    }


def _word(level: Level | None) -> str | None:
    return level.word if level else None
