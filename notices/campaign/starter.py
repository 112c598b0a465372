"""What a new campaign folder begins with: every part of the file as a commented, invented example."""

STARTER = """\
# A campaign: one defect in one product family, from the first hour to the last unit.
# Only the two names below, of issuer and of product, are needed to begin. Every other part is an example
# behind #, for an invented camping stove: take the # and the space after it away, from a whole block at a
# time, and write what is true of your product.
# `notices check` names the line of every fault; `notices explain CODE` says what a finding means.
# This program gives no legal advice. Your counsel and the authority decide what the law asks of you.

# --- the first lines ------------------------------------------------------------------------------

# schema: 1                           # the form of this file

# name: Emberling valve               # what you see; never sent

# language: en                        # of every text below; other languages go into translations/

# The number rises with each revision; before the first recall notice it is 0. Say why it changed.
# revision: {number: 0, day: 2026-01-12, why: "First warning. What causes the leak is not known yet."}

# When owners hear again, even if there is nothing new: at most seven days after revision.day.
# next_word: 2026-01-16

# Raise it where the sense of a text changed and no fact did, so that owners are told again. It may also stand
# in hazard, now, meanwhile, a remedy, or a remedy for one segment.
# saying: 1

# --- who sends, and how owners answer -------------------------------------------------------------

issuer:
  name: Your firm                   # the name that owners know
  # role: maker                     # maker | importer | dealer
  # address: [Mill Lane 4, Fellbrook]
  # country: GB                     # ISO 3166, two letters
  # time_zone: Europe/London
  # email: safety@fellbrook.example # owners see it and answer to it
  # web: fellbrook.example          # "open it yourself: the same notice is on the first page"
  # bulletin: fellbrook.example/valve
  # answers: https://fellbrook.example/stove

# One contact serves one or more countries. Telephone numbers stand in quotes, with + and the country code.
# contacts:
#   - {countries: [GB], phone: "+442079460123", free: false, call_back: true, speaks: [en]}
#   - {countries: [IE], call_back: true, time_zone: Europe/Dublin, speaks: [en]}   # no number: we call back

# hours: {days: [mon, tue, wed, thu, fri], from: "09:00", to: "17:00"}

# --- what was sold, and which units are affected --------------------------------------------------

product:
  name: Your product                # the model name that stands on the product
  # brand: Fellbrook
  # maker: Fellbrook Outdoor
  # made: {from: 2025-02, to: 2025-09, place: Fellbrook, country: GB}   # the US asks for it
  # description: Fellbrook Emberling camping stove
  # pictures:                       # shows: product | code | part | step
  #   - {file: pictures/stove.png, shows: product, alt: "The Emberling: a low stove with three folding legs"}
  #   - {file: pictures/base.png, shows: code, alt: "The number is printed under the base"}
  # sold:                           # by_shop: who sold how many in which month, for notices owners gaps
  #   units: 620
  #   from: 2025-03
  #   to: 2025-10
  #   by: Fellbrook Outdoor and camping shops
  #   by_shop:
  #     web shop: {2025-03: 180, 2025-04: 240}
  #     Emberling Outfitters: {2025-10: 200}
  # price: {cents: 7900, currency: EUR}

# How a code is built up, part by part, from left to right. Spaces, hyphens and dots count nowhere. A part is
# {text: AB}, {separator: "/"} that may be left out, {check: luhn}, or a field of one of these kinds:
#   iso_year: 4 with iso_week: true; year: 2 with us_week, month, day or year_day: true, or month_letters:
#     ABCDEFGHJKLM from January on; a year has 1, 2 or 4 digits, with 1 add since: 2019, the first it may mean
#   digits: 4, or base_34: 4 (no I, no O), base_36: 4    a running number
#   one_of: ABC with places: 2; or choice: [PL1, DE2]
# Checks are gs1_mod_10, luhn and, of ISO/IEC 7064, mod_11_2, mod_11_10, mod_37_2, mod_37_36, mod_97_10; they
# count all signs before them, or those of the fields named by over: [year, number].
# A GS1 code or address: add element: "01", "10", "11" or "21" to each part; whole: true takes all of it.
# Several layouts of one family stand under the key layouts, each with a name of its own; examples: for them.
# code:
#   label: number
#   where: Printed under the base, below the word Emberling.
#   layout:
#     - {text: "EM"}
#     - {field: year, iso_year: 2}
#     - {field: week, iso_week: true}
#     - {field: works, one_of: FGH}
#     - {field: number, digits: 3}
#   example: {code: EM2521F014, year: 2025, week: 21, works: F, number: 14}
#   hidden: 4                         # last signs that no notice shows
#   says: It begins with EM. Then come four digits, one letter and three digits.
#   misread: [["0", O, D, Q], ["1", I, L, "7"], [F, E, P]]

# Leave this out until you know it: then every unit counts as affected until it is cleared.
# A list of two is the first and the last of a range; a week is year and week in quotes.
# Beside fields a rule takes
#   sign: {place: 4, one_of: KP}      one sign of the code, counted without spaces and hyphens
#   codes: lists/batch-7.txt          single codes, one a line
#   any: [{works: F}, {works: G}]     one of these; all: and not: go the same way
#   sold: [2025-05-01, 2025-07-31]    the first and the last day of sale, for units without a code
# affected:
#   - {rule: works-f, works: F, week: ["2514", "2533"]}
# otherwise: cleared                  # cleared | affected: what all other codes are
# reworked: []                        # files of codes whose units were reworked, as lists/reworked.txt

# --- the hazard and what to do now ----------------------------------------------------------------

# The signal word goes by how badly people can be hurt (ANSI Z535.6, definitions from memory):
#   DANGER   will kill or seriously injure, if it is not avoided
#   WARNING  could kill or seriously injure
#   CAUTION  could injure slightly or moderately
#   NOTICE   nobody is hurt; not for a warning to owners
# hazard:
#   signal: WARNING
#   what: The valve of the stove can leak gas. The gas can catch fire or explode.
#   who: You and everyone near the stove can be killed or badly burnt.
#   without_sign: It can leak with no smell and no hiss, also on a stove that burns well.
#   signs: [you smell gas, you hear it hiss, the flame burns yellow]
#   short: the valve can leak gas

# subjects:
#   stop: "Do not use your Emberling stove: the valve can leak gas (safety warning)"
#   first: "Do not use your Emberling stove: the valve can leak gas (product safety recall)"
#   cleared: "Your Emberling stove: its number is not affected (product safety recall)"

# preheaders:
#   stop: Stop now, even if it burns well. We will write again by %(next_word)s.
#   first: Stop now, even if it burns well. A new valve or your money back is free.

# The first words of a correction, by what its owner was told or sent before; where none stand, ours do.
# corrections:
#   told_safe: We told you that your stove was not affected. That was wrong. It is affected. Do not use it.
#   told_to_stop: We told you that your stove was affected. As far as we know on %(day)s, it is not.
#   parts: The valve that we sent you is faulty too. Do not fit it. If it is fitted, do not use the stove.
#   other: We have more to tell you than before. From now on, this message holds.

# Levels: 0 may be used, 1 check, 2 do not use, 3 nor move.
# Use unknown counts as symptomatic until it is answered.
# now:
#   headline: Stop using your Emberling stove now. Do not light it again.
#   level: {affected: 2, missing: 2, symptomatic: 3, unknown: 3, cleared: 0}
#   steps:
#     all:
#       - Put the stove out. Do not light it again.
#       - Let it cool in the open air, away from flames. Then close the cartridge. Unscrew it.
#       - Tell everyone who uses it. Do not lend, sell or give it away.
#       - Tell us that you have stopped.
#     symptomatic:                    # these stand in the place of the first of all; the rest follow
#       - Put out every flame. Go away from the stove. Keep others away.
#       - If gas still escapes, call the fire service. Do not touch the valve.
#   stopped_button: "I have stopped: arrange my new valve or refund"
#   stopped_page_button: I have stopped. Next
#   in_use_button: I still have to use it. Call me
#   call_at_once: if you smell gas, if it hisses or burns yellow, or if someone was hurt. Keep the valve.
#     Take nothing apart.
#   reply_word: STOPPED
#   other_code: Another number on your stove, or none that you can find? Still do not use it. Tell us; we
#     look with you.
#   code_missing: We do not have the number of your stove. Do not use it. Tell us the number, or send us a
#     photo of it.
#   near: Still do not use it. Look again at the number, and send us a photo of it.
#   cleared: As far as we know on %(day)s, a stove with this number does not have the faulty valve. Compare
#     the number once more, sign by sign. You may use it. If you smell gas or hear a hiss, stop and call
#     us.

# use:
#   question: Has anybody lit the stove?
#   unridden: {name: Never lit, answer: "No, never"}
#   ridden_no_symptoms: {name: "Lit, nothing noticed", answer: "Yes, and we noticed nothing"}
#   symptomatic: {name: "Smell, hiss or yellow flame", answer: "Yes, and it smells, hisses or burns yellow"}
#   unknown: {name: Use unknown, answer: I am not sure}

# --- what you will do -----------------------------------------------------------------------------

# Leave this out until one remedy can be promised: without it the notice is a stop warning.
# Where the work can hurt someone, a qualified person comes first and costs the owner nothing.
# remedies:
#   new-valve:
#     kind: repair                    # repair | replace | refund
#     label: A new valve
#     unridden:
#       promise: "Never lit: a gas fitter near you puts in a new valve, and we pay."
#       parts: {EV-12: 1, EO-3: 1}
#       by: [mechanic]                # mechanic | owner | workshop, the first choice first
#       minutes: {mechanic: 20}
#     ridden_no_symptoms:
#       promise: "Lit, nothing noticed: a gas fitter near you puts in a new valve, and we pay."
#       parts: {EV-12: 1, EO-3: 1}
#       by: [mechanic]
#       minutes: {mechanic: 20}
#     symptomatic:
#       promise: "Smell, hiss or yellow flame: we fetch the stove and send you a new one."
#       parts: {EV-12: 1, EO-3: 2}
#       by: [workshop]
#       tools: [leak tester]
#       minutes: {workshop: 45}
#   refund:
#     kind: refund
#     label: Your money back
#     all: {promise: The full price you paid. We fetch the stove.}

# single_remedy_reason: No part is made any more.  # where there is no choice; no owner reads it

# free: You pay nothing for parts, work, transport or post.

# answer_within: {working_days: 3, text: We will tell you the day within 3 working days of your answer.}

# meanwhile: {kind: hire, text: "Until then we lend you another stove: call us."}   # hire | fares | nothing

# before_remedy: "We are working on the new valve. You will hear from us by %(next_word)s. Until then: do
#   not use the stove. You keep your right to a free remedy."

# cautions:
#   - Keep the old valve. Do not clean or repair it.
#   - Work on gas only in the open air, with no flame near.
#   - If anything is unclear, do not do it. A qualified gas fitter does it, and we pay.

# parts: {EV-12: valve, EO-3: sealing ring}   # what owners and fitters call each part number

# confirm:
#   title: Is the new valve in, and who did it?
#   questions:
#     - {key: leak, ask: "No bubbles when soapy water was put on the valve?", good: yes_answer}
#     - {key: flame, ask: "Does the flame burn blue?", good: yes_answer}
#   old_part: What happened to the old valve?

# no_longer: "Tell us who has it now, or send them to %(bulletin)s."

# share: "Do you know someone with an Emberling? Send them to the same page. Please do not forward the
#   button above: it belongs to your stove."

# --- what is said in public -----------------------------------------------------------------------

# Beside these a fact takes
#   about: PART         the part of this file that waits for it; notices check names it until it is known
#   inside: true        only the firm needs to know it; no owner reads it
# ledger:                             # known | not_yet_known | being_checked | withdrawn
#   - {day: 2026-01-10, standing: known, text: One stove caught fire. Nobody was hurt.}
#   - {day: 2026-01-12, standing: being_checked, text: Which valves leak.}
#   - {standing: not_yet_known, text: how many stoves are affected}

# How many incidents there were, and how many people were hurt. A recall notice tells it where the law asks
# for it (the US: 16 CFR 1115.27(m)), a zero as none reported. In the EU no notice may say that none are.
# incidents:
#   day: 2026-01-12                   # what was reported by this day
#   all: 1                            # every occasion on which one failed or someone was hurt
#   damage: 1                         # those with damage to property
#   injuries: 0
#   deaths: 0
#   ages: []                          # of everyone injured or killed, as [34, 41]
#   received: []                      # the days on which the authority got word of injuries and deaths

# What the firm owes the authorities follows from the markets; notices deadlines counts it. What it owes
# others by a contract, and the days that are counted from:
# duties:
#   days: {knowledge: 2026-01-10, action: 2026-01-12}  # also determination, report, notification
#   own:
#     insurer: {to: our insurer, what: report the claim, within_days: 7, counted_from: knowledge}
#     supplier: {to: the maker of the valve, what: complain of the lot, within_days: 5, working: true}

# A market also takes goods: consumer | vehicle | medical, for the US has a law for each, and by language
# who has held the headline against the law's own text: headline_read_by: {fr: NAME}.
# markets:                            # where units were sold, and the headline its law asks for
#   EU: {countries: [IE], headline: Product safety recall}
#   GB: {countries: [GB], headline: Product safety recall}

# warning_headline: Important safety warning

# languages: {written: [en], default: en}   # default: what owners get whose own language is not written

# --- afterwards -----------------------------------------------------------------------------------

# Working days after the first notice; channel: email | text | letter | phone.
# follow_up:
#   - {step: mail-again, after_days: 3, channel: email}
#   - {step: text, after_days: 5, channel: text}
#   - {step: letter, after_days: 7, channel: letter}
#   - {step: call, after_days: 10, channel: phone}

# sale_stop:
#   places: [web shop, shop in Fellbrook, camping shops]
"""

MAIL_TOML = """\
# How notices leave: your own mail server. The password never stands here; it comes from the environment
#   (NOTICES_MAIL_PASSWORD) or the keyring (keyring set notices:HOST USER).
# Take the # and the space after it away, and write what your mail provider gives for outgoing mail.

# host = "mail.firm.example"
# port = 587                  # 587 with starttls, 465 with tls
# security = "starttls"       # starttls | tls | none; none only for a server on this very machine
# user = "safety@firm.example"
# pace = "30/min"             # how many messages a minute; ask your provider what is allowed
# connections = 2             # how many at once
"""
