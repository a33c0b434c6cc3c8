"""A day's work for one or two people: what is done when, by whom, so that nobody and nothing is in two places.

The door to the modules beside it: the records, the network of links, the search for a plan, and why it takes so long.
"""

from macros.calculations.work_plan_chain import critical_chain
from macros.calculations.work_plan_network import floats
from macros.calculations.work_plan_records import Activity, Link, Placed, Plan, Times
from macros.calculations.work_plan_search import plan_day

__all__ = ["Activity", "Link", "Placed", "Plan", "Times", "critical_chain", "floats", "plan_day"]
