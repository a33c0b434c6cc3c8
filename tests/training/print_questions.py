"""Prints the twenty-four questions as a house answers them: python -m tests.training.print_questions [HOUSE] > docs/training-questions.md"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from macros.ground.yaml_source import read_yaml
from macros.training.self_checks.all_questions import QuestionView
from tests.making import ROOT, made_site

HEAD = """# The twenty-four questions, as the demo house answers them

Made by `python -m tests.training.print_questions > docs/training-questions.md`. The worked examples were reckoned by hand when the
training path was laid down; the answers are the program's, from the amounts of the house in `site_data/`.

Differences:

- 8: the example reads 300 on the strip. The question takes the highest value printed on the house's own strip that lies
  under the pass band, because only a printed value can be read. The answer is the same: it fails.
- 22: the question tells the humidity and the wall, and asks what happens; the dew point stands in the explanation.
- 23: it is asked of each pen of the house, by its own rhythm.
- 2, 11, 12, 15 and the others that depend on a system are asked for each system.
- Tolerance is one mark of the tool the answer is measured with. Where nothing is measured, or one mark would be more than a
  tenth of the answer, the number must be met as printed.
"""


def asked() -> list[dict[str, Any]]:
    """The questions by number, with the templates that ask them."""
    source, problems = read_yaml(Path(__file__).with_name("asked.yml"), "tests/training/asked.yml")
    assert source is not None
    assert problems == []
    rows: list[dict[str, Any]] = source.data
    return rows


def lines(questions: tuple[QuestionView, ...]) -> Iterator[str]:
    """The document, line by line."""
    for row in asked():
        yield f"\n## {row['n']}. {row['asks']}\n"
        yield f"Worked example: {row['example']}\n"
        found = [question for question in questions if question.template in row["templates"]]
        for question in found:
            within = f" (right within {question.tolerance})" if question.tolerance else ""
            tool = f", with {question.tool}" if question.tool and question.kind == "number" else ""
            yield f"- {question.scope + ': ' if question.scope else ''}{question.text} **{question.answer}**{tool}{within}. {question.why}".rstrip()
            yield from (f"    - wrong: {text}. {means}" for text, means in question.wrong)
        if not found:
            yield "- not asked: this house has nothing to ask it of"


if __name__ == "__main__":
    print(HEAD + "\n".join(lines(made_site(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT).questions)))
