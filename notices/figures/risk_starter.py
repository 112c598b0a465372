"""What ``risk.toml`` begins with: how it is written, and one invented scenario."""

import re

STARTER = """\
# How serious it is: how somebody comes to harm, step by step, each with a probability and your reason for it.
# This is for your file and for the authority, never for a notice. No legal advice: the authority decides.
# Whatever comes out, it puts nothing off: warn, stop the sale, and report what has happened.
#
# The scenario below is invented, figures and all: write yours over it. Write several where several things can
# happen, each under its own [[scenario]]; the one with the highest level decides.
#
#   probability   of one user over the whole life of the product, each step given all the steps before it;
#                 never times the number of units. "1/50", "1 in 50", "2 %" and 0.02 are the same.
#   severity      1 basic treatment, 2 emergency care, 3 hospital or a lasting loss, 4 can kill.
#   reason        a test, a count, a report; or say that it is your own estimate.

[[scenario]]
happens = "The steering link of the Drayling 2 breaks on the road, and the rider falls under a vehicle."
severity = 4
severity_reason = "A fall in front of a vehicle can kill; children ride in the box."

[[scenario.step]]
happens = "The bicycle has a link that was not tempered."
probability = "1/4"
reason = "Own estimate: one of four links cut open from the affected weeks was hard all through."

[[scenario.step]]
happens = "The link breaks while somebody rides."
probability = "1/50"
reason = "Own estimate: two breaks known in the first months, and how long a wrong link lasts is not yet known."

[[scenario.step]]
happens = "The rider cannot stop before falling or leaving the lane."
probability = "1/2"
reason = "Own estimate: without a link the wheel turns freely; of two riders one fell."

[[scenario.step]]
happens = "A vehicle is there and cannot stop."
probability = "1/20"
reason = "Own estimate, for roads in town; no count is known to us."
"""

EXAMPLES = frozenset(re.findall(r'^happens = "(.+)"$', STARTER, re.MULTILINE))
"""The sentences that are nobody's own."""
