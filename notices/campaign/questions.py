"""The fourteen questions that a campaign begins with, in the order in which they are asked.

Nothing heavy may be imported here, so that the commands' help stays quick.
"""

from notices.campaign.asks import Ask
from notices.campaign.asks_of_the_fault import FAULT
from notices.campaign.asks_of_the_firm import FIRM

QUESTIONS: tuple[tuple[Ask, ...], ...] = (*FAULT, *FIRM)
ASKS: tuple[Ask, ...] = tuple(ask for question in QUESTIONS for ask in question)
