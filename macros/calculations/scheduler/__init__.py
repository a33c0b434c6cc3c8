"""A day's work for one or two people: what is done when, by whom, so that nobody and nothing is in two places.

The door to the modules beside it: the records, the network of links, the search for a plan, and why it takes so long.
"""

from macros.calculations.scheduler.critical_chain import critical_chain
from macros.calculations.scheduler.network import floats
from macros.calculations.scheduler.records import Link, NetworkActivity, Placed, Plan, Times
from macros.calculations.scheduler.search import plan_day

__all__ = ["Link", "NetworkActivity", "Placed", "Plan", "Times", "critical_chain", "floats", "plan_day"]
