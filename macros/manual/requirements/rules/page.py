"""Rules on a whole page: training units, cleaning facts, deviations, frequencies, sources of figures."""

from __future__ import annotations

import re
from collections.abc import Iterator

from macros.manual.procedures.page_texts import Written
from macros.manual.requirements.judge import Finding, Subject, finding_at, rule
from macros.published.safety.actions import action_counts_as
from macros.published.training.training import training_units

MOST_STEPS = 20
_DIGIT = re.compile(r"\d")

_INTERVAL = re.compile(
    r"\b(daily|weekly|monthly|yearly|hourly|fortnightly|every (?:\d+ )?(?:hours?|days?|weeks?|months?|years?)"
    r"|once a (?:day|week|month|year))\b",
    re.IGNORECASE,
)
_FIGURE = re.compile(
    r"(?<![\w.-])\d+(?:\.\d+)?(?: (?:to|-) \d+(?:\.\d+)?)? ?"
    r"(?:%(?: w/[wv]| v/v)?|°C|°F|mL/L|mg/L|ug/kg|µg/kg|mS/cm|kPa|ppm|mL|mm|cm|kg|kW|mA|min|L|m|g|s|h|W|V|A"
    r"|days?|weeks?|months?|years?|hours?|minutes?|seconds?)(?![\w/])"
)

_IN_UNITS = re.compile(r"in_units\('([^']*)', '[^']*'\)")


@rule("P-05")
def trained_in_a_unit(subject: Subject) -> Iterator[Finding]:
    """At least one unless anybody may do it."""
    known = training_units()
    data = subject.data
    if not data.units and data.who != "0":
        yield Finding(
            data, "who", "no training unit is named", f"units: one or more of {', '.join(known)}", "Name them"
        )


@rule("P-07")
def cleaning_facts(subject: Subject) -> Iterator[Finding]:
    """The three things a cleaning page says beside its steps."""
    if subject.data.section == "Cleaning" and subject.data.cleaning is None:
        yield Finding(
            subject.data,
            "section",
            "a cleaning page does not say how things come apart, stay clean and are looked at before use",
            "cleaning: {take_apart, protect_until_use, inspect_before_use}",
            "Add the three texts",
        )


@rule("P-08")
def done_can_be_seen(subject: Subject) -> Iterator[Finding]:
    """No line that only judges."""
    if not subject.data.done_when:
        yield Finding(
            subject.data,
            "done_when",
            "nothing says when the work is done",
            "A reading or a yes or no",
            "Add a line",
        )
    for one in subject.texts("done_when"):
        match = re.search(
            r"\b(looks?|seems?|is|are) (clean|good|fine|ok|okay|right|tidy|nice|in order)\b",
            one.text,
            re.IGNORECASE,
        )
        if match:
            yield finding_at(
                one,
                f'"{match.group(0)}" cannot be checked',
                "A reading with limits, or what is seen",
                "Say what is read or seen",
            )


@rule("P-09")
def deviations_told(subject: Subject) -> Iterator[Finding]:
    """Each kind of deviation the page's own steps can meet."""
    told = {entry.kind for entry in subject.data.if_wrong}
    for kind, why in _can_happen(subject).items():
        if kind not in told:
            yield Finding(
                subject.data,
                "if_wrong",
                f"no line of the kind {kind} under if_wrong, but {why}",
                "Sign, act, who decides and record for each kind the steps can meet",
                f"Add an entry with kind: {kind}",
            )


def _can_happen(subject: Subject) -> dict[str, str]:
    happens: dict[str, str] = {}
    for step in subject.data.steps:
        if any(entry.chemical != "part" for entry in step.handles):
            happens.setdefault("spill", f"step {step.id} handles a chemical")
            happens.setdefault("exposure", f"step {step.id} handles a chemical")
        if step.record is not None and re.search(r"\d|\{\{", step.record.limits):
            happens.setdefault("out_of_range", f"step {step.id} reads a value with limits")
        if "start_pump" in action_counts_as(step.action):
            happens.setdefault("power_loss", f"step {step.id} runs the pump")
        if step.wait is not None:
            happens.setdefault("interrupted", f"step {step.id} waits")
    return happens


@rule("P-10")
def one_frequency(subject: Subject) -> Iterator[Finding]:
    """An interval in `when` comes from the list of frequencies."""
    for one in subject.texts("when"):
        match = _INTERVAL.search(one.own_words)
        if match:
            yield finding_at(
                one,
                f'"{match.group(0)}" is a second figure for a frequency',
                '{{ every("...") }} with a name of macros/published/pages/frequencies.yml',
                "Take the figure from there",
            )


@rule("P-12")
def one_job(subject: Subject) -> Iterator[Finding]:
    """As many steps as one can keep in view."""
    count = len(subject.data.steps)
    if count > MOST_STEPS:
        yield Finding(
            subject.data,
            "steps",
            f"{count} steps",
            f"{MOST_STEPS} at most",
            "Split the page at a natural pause",
        )


@rule("P-14")
def exclusions(subject: Subject) -> Iterator[Finding]:
    """`not_for` says something."""
    if len(subject.data.not_for.split()) < 3:
        yield Finding(
            subject.data,
            "not_for",
            f'"{subject.data.not_for}" excludes nothing',
            "What the page is not for",
            "Say it",
        )


@rule("P-16")
def figures_have_sources(subject: Subject) -> Iterator[Finding]:
    """Each figure typed on the page is listed with its source, and each listed one stands on the page."""
    data = subject.data
    listed = {_plain(entry.figure) for entry in data.outside_figures}
    seen: set[str] = set()
    for one in [*subject.texts(), Written(data, "id", None, subject.raw_body, subject.body)]:
        raw = _with_fallbacks(one.raw)
        for match in _FIGURE.finditer(raw) if _DIGIT.search(raw) else ():
            figure = _plain(match.group(0))
            seen.add(figure)
            if figure not in listed:
                yield finding_at(
                    one,
                    f'"{match.group(0)}" has no source',
                    "A figure that is not this house's own is listed under outside_figures with a key of "
                    "macros/published/pages/sources.yml",
                    "List it, or take the figure from the house with a word",
                )
    for entry in data.outside_figures:
        if _plain(entry.figure) not in seen:
            yield Finding(
                entry, "figure", f'"{entry.figure}" stands nowhere on the page', "", "Take it out of the list"
            )


def _with_fallbacks(raw: str) -> str:
    """The author's words, and the fallbacks written inside the words of a text; of a figure in both units the metric one."""
    if "{" not in raw:
        return raw
    raw = _IN_UNITS.sub(r", '\1'", raw)

    def fallback(match: re.Match[str]) -> str:
        return " ".join(re.findall(r"(?:, |otherwise=)['\"]([^'\"]*)['\"]", match.group(0)))

    return re.sub(r"\{\{.*?\}\}", fallback, re.sub(r"\{%.*?%\}", " ", raw))


def _plain(figure: str) -> str:
    return re.sub(r"\s+", " ", figure.strip())
