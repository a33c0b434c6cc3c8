"""The training section: pages for helper and trainer, and on paper breakdown sheets, trainer's sheets and records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from markupsafe import Markup

from macros.amounts import Register
from macros.html.environment import fragment, render
from macros.html.paper import Part
from macros.html.qr_code import qr_svg
from macros.html.room_drawing import room_drawing
from macros.html.site_text import SiteText
from macros.page_model.addresses import source_address
from macros.page_model.page import PageView
from macros.training.path.chemicals import chemical_training
from macros.training.path.path import module_named, training_path
from macros.training.path.sheets import (
    TrainerView,
    TrainingRecordView,
    revision,
    trainer_view,
    training_record,
)

VOID = "Void once a page of this module is issued anew"


def path_texts(register: Register, views: Sequence[PageView]) -> Iterator[SiteText]:
    """The path, its modules, then what is the trainer's; nothing without `training` in the house."""
    path = training_path(register, views)
    if path is None:
        return
    yield SiteText("training/path.md", render("training_path.md.j2", path=path), ("Training", "Path"))
    modules = {module.data.unit: module for module in path.modules}
    for module in path.modules:
        text = render(
            "training_module.md.j2",
            m=module,
            needs=[modules[unit] for unit in module.data.needs],
            chemicals=chemical_training(register, views, module.data.unit),
            revision=revision,
        )
        yield SiteText(source_address(module.address), text, ("Training", module.title))
    for module in path.modules:
        text = render("training_trainer.md.j2", t=trainer_view(register, module), revision=revision)
        menu = ("Training", "For the trainer", f"{module.title}, trainer")
        yield SiteText(source_address(module.trainer_address), text, menu)


def breakdown_part(view: TrainerView) -> Part:
    """The breakdown of every page of a module, one behind the other: important steps, key points, reasons."""
    html = fragment(
        "breakdown.html.j2",
        m=view.module,
        house_name=view.house_name,
        qr=qr_svg(view.module.public_address),
        room=room_drawing,
    )
    return replace(_module_part(view, "breakdown", "Breakdown", html), styles=("training", "room"))


def trainer_part(view: TrainerView) -> Part:
    """The trainer's sheet of one module."""
    html = fragment("trainer.html.j2", t=view, qr=qr_svg(view.module.public_address))
    return _module_part(view, "trainer", "Trainer's sheet", html)


def training_record_part(view: TrainingRecordView) -> Part:
    """The blank training record of one person in one module."""
    html = fragment("training_record.html.j2", r=view, qr=qr_svg(view.module.public_address))
    kept = f"Kept for {view.kept} · reviewed within {view.reviewed_within}"
    return replace(_module_part(view, "record", "Training record", html), bottom_right=kept, landscape=True)


def _module_part(view: TrainerView | TrainingRecordView, key: str, kind: str, html: Markup) -> Part:
    module = view.module
    return Part(
        key=f"{module.data.short}-{key}",
        title=f"{kind}: {module.title}",
        html=html,
        styles=("training",),
        top_left=f"{view.house_name} · {module.title} · {kind.lower()}",
        top_right=module.data.short,
        bottom_left=f"Built for {view.built_for}",
        bottom_right=VOID,
    )


def training_parts(register: Register, views: Sequence[PageView], module: str) -> list[Part]:
    """The paper of one module, by its unit or short name: trainer's sheet, breakdown, record.

    Raises
    ------
    KeyError
        the house trains nobody, or there is no such module; the message says so.
    """
    path = training_path(register, views)
    if path is None:
        raise KeyError("this house says nothing under training")
    found = module_named(path, module)
    trainer = trainer_view(register, found)
    return [
        trainer_part(trainer),
        *([breakdown_part(trainer)] if found.sheets else []),
        training_record_part(training_record(register, found)),
    ]
