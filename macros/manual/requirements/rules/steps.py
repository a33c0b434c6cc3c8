"""Rules on steps: results, holds, waits, doers, tools, cautions, readings, and how numbers are written."""

from __future__ import annotations

import re
from collections.abc import Iterator

from macros.manual.procedures.file_format import StepData
from macros.manual.procedures.known_words import THINGS, known_things
from macros.manual.procedures.page_texts import Written
from macros.manual.requirements.judge import Finding, Subject, finding_at, rule
from macros.manual.requirements.readability import sentences_of

MOST_CAUTIONS = 3
SIGNAL_WORDS = ("DANGER", "WARNING", "CAUTION", "NOTICE")
_MEASURED = ("mL", "L", "g", "kg", "fl oz", "gal", "mg", "lb", "oz")
_READS = ("read", "count", "weigh", "test_strip")
_STANDS = ("soak", "soak_parts", "fill", "refill", "drain", "drain_reservoir")


@rule("S-06")
def critical_has_result(subject: Subject) -> Iterator[Finding]:
    """What is seen or read tells that it worked."""
    for step in subject.data.steps:
        if step.critical and not step.expect and step.record is None and not step.amount:
            yield Finding(
                step,
                "critical",
                "a critical step without what is seen or read",
                "expect: or record:",
                "Say how one knows it worked",
            )


@rule("S-07")
def who_does_what(subject: Subject) -> Iterator[Finding]:
    """Two people, two parts."""
    for step in subject.data.steps:
        if step.hands == "2" and not step.doer:
            yield Finding(step, "hands", "two people work, but who does what is not said", "doer:", "Say it")


@rule("S-08")
def timed_steps_whole(subject: Subject) -> Iterator[Finding]:
    """Least, most, what then and what if missed."""
    for step in subject.data.steps:
        if step.wait is None:
            continue
        missing = [
            name for name in ("least", "greatest", "then", "missed") if not getattr(step.wait, name).strip()
        ]
        if missing:
            yield Finding(
                step,
                "wait",
                f"the wait does not say {', '.join(missing)}",
                "least, greatest, then and missed",
                "Add it",
            )


@rule("S-09")
def repeats_end(subject: Subject) -> Iterator[Finding]:
    """A step that repeats says when to stop."""
    for step in subject.data.steps:
        if re.match(r"Repeat\b|Go back\b", step.do) and not step.until:
            yield Finding(step, "do", "the step repeats without an end", "until:", "Say when to stop")


@rule("S-10")
def ways_to_choose(subject: Subject) -> Iterator[Finding]:
    """A choice is a list, and a list has a choice."""
    for step in subject.data.steps:
        offers = "ONE of" in step.do
        if offers != bool(step.one_of):
            yield Finding(
                step,
                "do",
                "the step offers a choice without a list"
                if offers
                else "one_of stands without the words ONE of",
                'do: "... ONE of these:" with one_of: a list of two or more',
                "Write both",
            )


@rule("S-11")
def writing_has_a_place(subject: Subject) -> Iterator[Finding]:
    """Record and write mean a value on the form."""
    for step in subject.data.steps:
        if re.match(r"(Record|Write|Log|Note)\b", step.do) and step.action != "label" and step.record is None:
            yield Finding(
                step,
                "do",
                "the step says to write, but there is no place to write it",
                "record:",
                "Add quantity and limits",
            )


@rule("S-16", each_system=True)
def things_of_the_inventory(subject: Subject) -> Iterator[Finding]:
    """Things used are named letter for letter, once the house's words are written; others are looked at before."""
    known = known_things(subject.house)
    for one in subject.texts("uses"):
        if one.text not in known:
            what = f'"{one.text}" is not in the inventory'
            yield finding_at(one, what, THINGS, "Mend the name, or add the thing there")


@rule("S-17", each_system=True)
def critical_is_guarded(subject: Subject) -> Iterator[Finding]:
    """A caution directly before it, or a hold. On an emergency page nothing may hold up what saves."""
    if subject.data.emergency:
        return
    present = {step.id.partition("-")[0] for step in subject.view.steps}
    guarded = {step.id.partition("-")[0] for step in subject.view.steps if step.cautions}
    for step in subject.data.steps:
        if step.critical and not step.hold and step.id in present - guarded:
            yield Finding(
                step,
                "critical",
                "a critical step with neither a caution before it nor a hold",
                "hold: yes, or what triggers a caution (handles, near, lifts)",
                "Say what makes it critical",
            )


@rule("S-18")
def holds_are_released(subject: Subject) -> Iterator[Finding]:
    """By a reading or by what a second person sees."""
    for step in subject.data.steps:
        if step.hold and step.record is None and not step.expect:
            yield Finding(step, "hold", "nothing says what releases the hold", "record: or expect:", "Say it")


@rule("S-19")
def safe_to_leave(subject: Subject) -> Iterator[Finding]:
    """Work that waits, soaks, fills or drains says how to leave it."""
    steps = subject.data.steps
    long = [step for step in steps if step.wait is not None or step.action in _STANDS]
    if long and not any(step.safe_to_leave for step in steps):
        yield Finding(
            long[0],
            "id",
            f"step {long[0].id} can be interrupted, but no step of the page is safe to leave",
            "safe_to_leave: {for, as}",
            "Say where and how long the work may stand",
        )


@rule("A-02", each_system=True)
def amounts_name_their_tool(subject: Subject) -> Iterator[Finding]:
    """What is measured at a step has a tool, from the amount or from the step."""
    for planned in subject.view.steps:
        for amount in planned.amounts:
            measured = any(amount.printed.endswith(f" {unit}") for unit in _MEASURED)
            if measured and not amount.tool and not planned.tools:
                data = _as_written(subject, planned.id)
                yield Finding(
                    data,
                    "amount",
                    f"{amount.amount_id} is measured with nothing",
                    "uses: the tool it is measured with",
                    "Name it",
                )


_DIGIT = re.compile(r"\d")


@rule("A-01")
def numbers_have_units(subject: Subject) -> Iterator[Finding]:
    """A number is followed by its unit or by what is counted; pH and names such as step 4 have none."""
    for one in subject.texts("do", "expect", "say", "done_when", "act", "first_lines", "clean_up"):
        bare = _with_bare_numbers(one.raw)
        for sentence in sentences_of(bare) if _DIGIT.search(bare) else ():
            match = re.search(r"(?<![\w.:/-])\d+(?:\.\d+)?(?=[.,;)]?$|[.,;)] )", sentence)
            if match and not re.search(r"\bpH\b", sentence) and not _is_named(sentence[: match.start()]):
                yield finding_at(
                    one,
                    f'"{match.group(0)}" has no unit',
                    "A unit, or what is counted, behind each number",
                    "Add it",
                )


def _with_bare_numbers(raw: str) -> str:
    """The author's words with a number where a word gives one without its unit; what the house wrote stays out."""
    if "{" not in raw:
        return raw
    bare = re.sub(r"\{\{ *(?:number|low|high)\(.*?\}\}", "7", raw)
    return re.sub(r"\{\{.*?\}\}|\{%.*?%\}", "X", bare)


def _is_named(before: str) -> bool:
    """Numbers that are names: step 4, breaker 7, shelf 1, part 2 of 3."""
    names = "steps?|breakers?|shelf|level|parts?|number|ring|buffer|to|and|of|in"
    return bool(re.search(rf"\b(?:{names})$", before.rstrip(), re.IGNORECASE))


@rule("A-13")
def numbers_well_written(subject: Subject) -> Iterator[Finding]:
    """A leading zero, no trailing one, a space before the unit; the author's own figures only."""
    for one in subject.texts():
        own = one.own_words
        if not _DIGIT.search(own):  # nearly all texts
            continue
        for pattern, what in (
            (r"(?<![\d\w])\.\d", "a number without its leading zero"),
            (r"\b\d+\.0(?= ?(?:mL|L|g|kg|min|h|cm|mm|%)\b)", "a trailing zero"),
            (r"\b\d+(?:mL|mg|min|kg|cm|mm|L|g|h|s)\b", "no space before the unit"),
        ):
            match = re.search(pattern, own)
            if match:
                yield finding_at(
                    one, f'"{match.group(0)}": {what}', "0.5 mL, 5 mL, 15 min", "Mend the number"
                )


_SIGNAL_WORD = re.compile(rf"\b(?:{'|'.join(SIGNAL_WORDS)})\b")


@rule("C-06")
def no_typed_caution(subject: Subject) -> Iterator[Finding]:
    """Signal words come from the catalogue alone."""
    for one in [*subject.texts(), Written(subject.data, "id", None, subject.raw_body, subject.body)]:
        typed = _SIGNAL_WORD.search(one.own_words)
        if typed:
            yield finding_at(
                one,
                f'"{typed.group(0)}" is typed on the page',
                "Cautions come from the catalogue by what a step handles, lifts and is near",
                "Take it out; add the trigger to the step, or the caution to the catalogue",
            )


@rule("C-16", each_system=True)
def few_cautions_at_once(subject: Subject) -> Iterator[Finding]:
    """More than three messages before one step are not read."""
    for step in subject.view.steps:
        if len(step.cautions) > MOST_CAUTIONS:
            data = _as_written(subject, step.id)
            yield Finding(
                data,
                "id",
                f"{len(step.cautions)} messages stand before step {data.id}",
                f"{MOST_CAUTIONS} at most",
                "Split the step, so that each hazard has its own moment",
            )


_SANITIZES = ("spray_sanitizer", "soak_parts", "circulate_sanitizer")
_TIMES = {"the times of the wet time": r"from|start|until|time"}
_RINSED = {"what the rinse left": r"residue|rinse"}
_PROVED = {"the proof of its strength": r"strip|strength"}


@rule("G-03")
def sanitizing_is_recorded(subject: Subject) -> Iterator[Finding]:
    """A page that sanitizes writes times and what the rinse left; one that makes a batch writes its proof."""
    steps = subject.data.steps
    acts = [step for step in steps if step.action in _SANITIZES]
    makes = [step for step in steps if step.does is not None and step.does.make]
    for at, verb, asked in ((acts, "sanitizes", _TIMES | _RINSED), (makes, "makes a batch", _PROVED)):
        missing = _unwritten(subject, asked) if at else []
        if missing:
            yield Finding(
                at[0],
                "action",
                f"the page {verb} but does not record {' or '.join(missing)}",
                "record: at the steps",
                "Add it",
            )


def _unwritten(subject: Subject, asked: dict[str, str]) -> list[str]:
    """Of what must be written, the names that no record of the page has."""
    records = [step.record.quantity.lower() for step in subject.data.steps if step.record is not None]
    return [name for name, words in asked.items() if not any(re.search(words, record) for record in records)]


@rule("G-06")
def readings_are_written(subject: Subject) -> Iterator[Finding]:
    """A value that is read has a place, a unit and limits."""
    for step in subject.data.steps:
        if step.action in _READS and step.record is None and not step.expect and not step.amount:
            yield Finding(
                step,
                "action",
                "a value is read, but neither written nor compared",
                "record: or expect:",
                "Say which value is right",
            )
        if step.record is not None and not step.record.limits.strip():
            yield Finding(
                step.record,
                "limits",
                f"{step.record.quantity} has no limits",
                "limits:",
                "Say what is allowed",
            )


def _as_written(subject: Subject, planned_id: str) -> StepData:
    """The step as written behind a step of the page: repeats carry their item after a hyphen."""
    own = planned_id.partition("-")[0]
    return next(step for step in subject.data.steps if step.id == own)
