"""All rules on pages: importing this module enters them, so that judging uses every one."""

from __future__ import annotations

from macros.manual import rules_checklists, rules_language, rules_page, rules_steps
from macros.manual.requirements import RULES, judge

RULE_MODULES = (rules_checklists, rules_language, rules_page, rules_steps)

__all__ = ["RULES", "RULE_MODULES", "judge"]
