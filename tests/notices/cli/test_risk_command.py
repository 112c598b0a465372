"""How serious it is, typed."""

from notices.cli.explaining import explain
from notices.figures.risk_starter import STARTER
from tests.commands import Desk

CLOSING = """\
For your file and the authority, never for a notice: owners are told the danger, not a level.
A low level puts nothing off: warn and stop the sale all the same, and report what has happened.
No legal advice: the authority decides.
"""
# The folding chair of Decision 2010/15/EU, guidelines, section 6.1, in words of our own, and a stove of our own.
CHAIR = """\
[[scenario]]
happens = "A finger is pinched while the chair is unfolded."
severity = 1
severity_reason = "A bruise."
step = [
  {happens = "Somebody unfolds it.", probability = 1, reason = "It is of no use folded."},
  {happens = "They hold it at the back corner.", probability = "1/50", reason = "Estimate."},
  {happens = "The finger is caught.", probability = "1/10", reason = "Estimate."},
  {happens = "It is pinched.", probability = 1, reason = "The gap closes."},
]
"""
STOVE = """
[[scenario]]
happens = "The stove leaks, and somebody is burnt."
severity = 3
severity_reason = "Two burns were treated in hospital."

[[scenario.step]]
happens = "The valve has a crack and gas meets a flame."
probability = "1/6000"
reason = "One of six thousand came back burnt."
"""


def test_without_a_file_it_says_what_to_write(desk: Desk) -> None:
    said = desk.type("risk")

    assert said.status == 1
    assert said.out == (
        "risk.toml: must mend [risk-file-missing] nobody has written yet how somebody comes to harm\n"
        "    mend: notices risk --begin writes it with an invented scenario, to be written over with yours\n"
        + CLOSING
    )
    assert "happens, severity and severity_reason" in (explain("risk-file-missing") or "")
    (one,) = desk.type("risk", "--format", "json").json["findings"]
    assert (one["code"], one["line"]) == ("risk-file-missing", None)


def test_the_starter_is_written_once_and_known_for_an_example(desk: Desk) -> None:
    said = desk.type("risk", "--begin")

    assert said.status == 0
    assert said.out.startswith("risk.toml is written. Next: write your own scenario over")
    assert (desk.folder / "risk.toml").read_text("utf-8") == STARTER
    shown = desk.type("risk")
    assert shown.status == 0
    assert "risk.toml:14: consider [risk-example-kept] scenario[0].happens: " in shown.out
    assert "\nLevel: serious; scenario 1 decides.\n" in shown.out
    assert (
        "  What decides: steps 1, 2, 3 and 4, each alone; a third as probable, the level is high."
        in shown.out
    )
    desk.write("risk.toml", CHAIR)
    again = desk.type("risk", "--begin")
    assert (again.status, again.err) == (2, "notices: risk.toml is there already, and stays as it is\n")
    assert (desk.folder / "risk.toml").read_text("utf-8") == CHAIR


def test_the_whole_is_printed_and_the_highest_level_decides(desk: Desk) -> None:
    desk.write("risk.toml", CHAIR + STOVE)
    said = desk.type("risk")

    assert said.status == 0
    assert said.out == (
        """\
Level: high; scenario 2 decides.

Scenario 1: A finger is pinched while the chair is unfolded.
  step 1: 1  Somebody unfolds it.
    reason: It is of no use folded.
  step 2: 1/50  They hold it at the back corner.
    reason: Estimate.
  step 3: 1/10  The finger is caught.
    reason: Estimate.
  step 4: 1  It is pinched.
    reason: The gap closes.
  probability: 1/500, in the row “more than 1/1000”; of one user, never times the units
  severity: 1 (basic treatment, heals without a trace)
    reason: A bruise.
  level: low; from low to high when one figure is shifted
    one row rarer: low
    one row likelier: medium
    severity 2: high
    step 1 a third as probable: low; thrice: low; certain: low
    step 2 a third as probable: low; thrice: low; certain: medium
    step 3 a third as probable: low; thrice: low; certain: medium
    step 4 a third as probable: low; thrice: low; certain: low
  What decides: step 2; if certain, the level is medium. Look into it first.

Scenario 2: The stove leaks, and somebody is burnt.
  step 1: 1/6000  The valve has a crack and gas meets a flame.
    reason: One of six thousand came back burnt.
  probability: 1/6000, in the row “more than 1/10000”; of one user, never times the units
  severity: 3 (usually hospital, harm for more than six months or a lasting loss)
    reason: Two burns were treated in hospital.
  level: high; from medium to serious when one figure is shifted
    one row rarer: medium
    one row likelier: serious
    severity 2: medium
    severity 4: serious
    step 1 a third as probable: medium; thrice: high; certain: serious
  What decides: step 1; if certain, the level is serious. Look into it first.

Matrix EU 2019: Implementing Decision (EU) 2019/417, Annex, table 4, as in Decision 2010/15/EU; """
        "the criteria are now Annex II of Delegated Regulation (EU) 2024/3173, under Regulation (EU) 2023/988. "
        "The cells are from memory: have a person hold them against the Official Journal before relying on them.\n"
        + CLOSING
    )


def test_json_holds_the_same(desk: Desk) -> None:
    desk.write("risk.toml", CHAIR + STOVE)
    found = desk.type("risk", "--format", "json").json
    chair, stove = found["scenarios"]

    assert (found["level"], found["decides"], found["findings"]) == ("high", [2], [])
    assert (chair["probability"], chair["band"], chair["level"]) == ("1/500", "more than 1/1000", "low")
    assert chair["one_severity"] == {"down": None, "up": "high"}
    assert stove["one_band"] == {"down": "medium", "up": "serious"}
    assert (stove["lowest"], stove["highest"], stove["decides"]) == ("medium", "serious", [1])
    assert stove["steps"][0]["certain"] == "serious"
    assert "from memory" in found["matrix"]["mark"]
    assert found["closing"].endswith("No legal advice: the authority decides.")


def test_what_must_be_mended_leaves_no_level(desk: Desk) -> None:
    desk.write("risk.toml", CHAIR + STOVE.replace('"1/6000"', "6000"))
    said = desk.type("risk")

    assert said.status == 1
    assert said.out.startswith(
        "risk.toml:19: must mend [risk-probability-unusable] scenario[1].step[0].probability"
    )
    assert "Level:" not in said.out
    found = desk.type("risk", "--format", "json")
    assert (found.status, found.json["level"], found.json["scenarios"]) == (1, None, [])


def test_extremes_are_told_in_words(desk: Desk) -> None:
    sure = STOVE.replace("severity = 3", "severity = 4").replace('"1/6000"', "1")
    rare = STOVE.replace("severity = 3", "severity = 1").replace('"1/6000"', '"1e-40"')
    nil = sure.replace("severity = 4", "severity = 1\n").replace("probability = 1\n", "probability = 0.2\n")
    desk.write("risk.toml", sure + sure + rare + nil)
    out = desk.type("risk").out

    assert out.startswith("Level: serious; scenarios 1 and 2 decide.\n")
    assert "  step 1: 1.0e-40  The valve" in out
    assert "  probability: 1.0e-40, in the row “1/1000000 or less”" in out
    assert "  No single step decides: the level stays, even with one a third as probable or certain.\n" in out


def test_a_backup_holds_it(desk: Desk) -> None:
    desk.write("risk.toml", CHAIR)
    desk.imported()
    (desk.folder.parent / "kept").mkdir()
    assert desk.type("backup", str(desk.folder.parent / "kept")).status == 0
    into = desk.folder.parent / "elsewhere"
    assert desk.type("restore", str(desk.folder.parent / "kept"), "--into", str(into), "--yes").status == 0

    assert (into / "risk.toml").read_text("utf-8") == CHAIR
