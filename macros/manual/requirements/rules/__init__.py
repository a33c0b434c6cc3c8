"""All rules on pages: importing this module enters them, so that judging uses every one."""

from __future__ import annotations

from macros.manual.requirements.judge import RULES, judge
from macros.manual.requirements.rules import checklists as rules_checklists
from macros.manual.requirements.rules import language as rules_language
from macros.manual.requirements.rules import page as rules_page
from macros.manual.requirements.rules import steps as rules_steps
from macros.manual.requirements.rules import training as rules_training

RULE_MODULES = (rules_checklists, rules_language, rules_page, rules_steps, rules_training)

__all__ = ["RULES", "RULE_MODULES", "judge"]
