"""What the job files know of the job of a preparation sheet: cautions, what must be known, parts on the way."""

from __future__ import annotations

from collections.abc import Iterable

from saidspec.reconcile.jobs import Job, jobs
from saidspec.reconcile.vocabulary import load_vocabulary
from saidspec.report.parts import is_about, phrase, same_place, system, touches
from saidspec.report.prep_values import JobKnowledge, Must

# Systems that are worked on with a wheel off: the cautions of lifting come first.
WHEEL_OFF = "wheel-off"
UNDER_A_WHEEL = frozenset({"brakes", "hubs", "suspension"})
FIRST = "The maker's manual, local rules and licensed practice come before everything on this sheet."


def knowledge(about: str, worked_on: Iterable[str], components: Iterable[str] = ()) -> JobKnowledge:
    """What is known of a job on `about`.

    `worked_on` are the components that work was done on before, `components` all that the record and the sheet of the
    vehicle hold: they decide where words fit several jobs ("oil change", "front brakes").
    """
    worked_on, components = list(worked_on), list(components)
    exact = [job for job in jobs() if named(about, job)]
    loose = [job for job in jobs() if partly_named(about, job)]
    if whole_system(about):
        loose = [job for job in jobs() if system(job.of) == system(about)]
        components = _there(about, [*worked_on, *components])
        worked_on = components
    # "belt" is no timing belt where the vehicle has another one and no timing belt; drums have no calipers
    strange = bool(components) if whole_system(about) else any(is_about(component, about) for component in components)
    fitting = exact or _had(loose, worked_on) or _had(loose, components) or ([] if strange else loose)
    lifted = [job for job in jobs() if job.id == WHEEL_OFF and system(about) in UNDER_A_WHEEL]
    fitting = list(dict.fromkeys([*lifted, *fitting]))
    cautions = [caution for job in fitting for caution in (*job.cautions, *(order.why for order in job.orders))]
    musts = [Must(need.what, need.or_what, need.kind, need.why) for job in fitting for need in job.needs]
    return JobKnowledge(
        name=", ".join(job.name for job in fitting), of=tuple(job.of for job in fitting if job not in lifted),
        cautions=(FIRST, *(_sentence(one) for one in dict.fromkeys(cautions))),
        parts=tuple(dict.fromkeys(part for must in musts for part in (must.what, must.or_what) if part)),
        musts=tuple(dict.fromkeys(musts)),
    )  # fmt: skip


def _there(about: str, components: Iterable[str]) -> list[str]:
    """The parts of a system at the place asked for: those told with that place, else those told without any."""
    own = [component for component in components
           if system(component) == system(about) and same_place(component, about)]  # fmt: skip
    placed = [component for component in own if phrase(component).positions] if phrase(about).positions else []
    return placed or own


def _had(some: Iterable[Job], components: Iterable[str]) -> list[Job]:
    """The jobs of whose part one of the components speaks."""
    held = list(components)
    return [job for job in some if any(touches(component, job.of) for component in held)]


def partly_named(about: str, job: Job) -> bool:
    """Whether words are part of a job's name: "oil change" of the engine oil change."""
    said, name = set(phrase(about).order), set(phrase(job.name).order)
    return bool(said & set(phrase(job.of).order)) and said <= name


def whole_system(about: str) -> bool:
    """Whether words only name a system: "front brakes", "steering"."""
    told = phrase(about)
    return bool(told.order) and all(word in load_vocabulary().system_says for word in told.order)


def named(about: str, job: Job) -> bool:
    """Whether words name a job, by its name or by what it is about: "engine oil change", "pads" for the brake pads."""
    said = set(phrase(about).order)
    of, name = set(phrase(job.of).order), set(phrase(job.name).order)
    return bool(said) and (of <= said or said == name)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
