"""What the job files know of the job of a preparation sheet: cautions, what must be known, parts on the way."""

from __future__ import annotations

from collections.abc import Iterable

from saidspec.reconcile.jobs import Job, jobs
from saidspec.reconcile.vocabulary import load_vocabulary
from saidspec.report.parts import is_about, phrase, system
from saidspec.report.prep_values import JobKnowledge, Must

# Systems that are worked on with a wheel off: the cautions of lifting come first.
WHEEL_OFF = "wheel-off"
UNDER_A_WHEEL = frozenset({"brakes", "hubs", "suspension"})
FIRST = "The maker's manual, local rules and licensed practice come before everything on this sheet."


def knowledge(about: str, done: Iterable[str]) -> JobKnowledge:
    """What is known of a job on `about`; `done` are the components that were worked on the last time.

    Words that only name a system ("front brakes") mean its jobs that were done then, all of them where none was.
    """
    done = list(done)
    fitting = [job for job in jobs() if named(about, job)]
    if not fitting and whole_system(about):
        own = [job for job in jobs() if system(job.of) == system(about)]
        fitting = [job for job in own if any(is_about(component, job.of) for component in done)] or own
    lifted = [job for job in jobs() if job.id == WHEEL_OFF and system(about) in UNDER_A_WHEEL]
    fitting = list(dict.fromkeys([*lifted, *fitting]))
    cautions = [caution for job in fitting for caution in (*job.cautions, *(order.why for order in job.orders))]
    musts = [Must(need.what, need.or_what, need.kind, need.why) for job in fitting for need in job.needs]
    return JobKnowledge(
        name=", ".join(job.name for job in fitting),
        cautions=(FIRST, *(_sentence(one) for one in dict.fromkeys(cautions))),
        parts=tuple(dict.fromkeys(part for must in musts for part in (must.what, must.or_what) if part)),
        musts=tuple(dict.fromkeys(musts)),
    )  # fmt: skip


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
