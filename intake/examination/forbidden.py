"""Plans held to the cautions: no trial or light that a caution forbids on the class, unless the plan stops there.

A trial that is right on most things of a class can hurt on some: a stopper is lifted, but never over contents. The
caution names the trial, and the plan names the caution in the trial's `stopped_by`, so that a screen withdraws the
trial once the sign was seen. A plan that leaves this out is refused.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from intake.examination.caution_pack import Caution, CautionPack, Forbidden
from intake.examination.plan import FunctionTest, Negative, Plan
from intake.examination.plan_check import DataFile, Problem


def forbidden_problems(read: DataFile[Plan], pack: CautionPack) -> list[Problem]:
    """Every trial and denial of a plan that a caution forbids and that does not name it."""
    plan, problems = read.content, []
    if plan.refer_only:
        return []
    for row in pack.cautions:
        if concerns(row, plan) and row.hazard not in plan.hazards:
            problem = f"the caution {row.hazard} ({row.name}) concerns this class: add it to hazards."
            problems.append(read.problem(["hazards"], problem))
        for forbidden in row.forbids:
            if holds_for(forbidden, row, plan):
                problems += unstopped(read, row, forbidden)
    return problems


def concerns(row: Caution, plan: Plan) -> bool:
    """Whether the row names the class."""
    return any(plan.class_id in forbidden.classes for forbidden in row.forbids)


def holds_for(forbidden: Forbidden, row: Caution, plan: Plan) -> bool:
    """Whether the plan is held to what is forbidden: its class is named, or it names the caution and no class is.

    A house's own class is named by no row, whatever it was copied from, so that it is held to all of a caution that it
    names itself.
    """
    if plan.class_id in forbidden.classes:
        return True
    return row.hazard in plan.hazards and not (
        forbidden.classes and (concerns(row, plan) or is_shipped(plan))
    )


@cache
def shipped_classes() -> frozenset[str]:
    return frozenset(file.stem for file in (Path(__file__).parent / "data" / "plans").glob("*.yaml"))


def is_shipped(plan: Plan) -> bool:
    """Whether the rows were written with this class in mind, so that one that does not name it means it so."""
    return plan.class_id in shipped_classes()


def unstopped(read: DataFile[Plan], row: Caution, forbidden: Forbidden) -> list[Problem]:
    """The trials and denials that this row forbids and that say nothing of it."""
    plan = read.content
    problem = "the caution {} ({}) forbids this {}: add it to stopped_by, or take the {} out."
    problems = []
    for number, test in enumerate(plan.tests):
        if forbids_test(forbidden, test) and row.hazard not in test.stopped_by:
            words = problem.format(row.hazard, row.name, "test", "test")
            problems.append(read.problem(["tests", number], words))
    for number, negative in enumerate(plan.negatives):
        if forbids_denial(forbidden, negative) and row.hazard not in negative.stopped_by:
            words = problem.format(row.hazard, row.name, "denial's light", "light")
            problems.append(read.problem(["negatives", number], words))
    return problems


def forbids_test(forbidden: Forbidden, test: FunctionTest) -> bool:
    """Whether a trial is forbidden, by its name or by its light. One that is never made harms nobody."""
    if test.never_when == "always":
        return False
    return test.test in forbidden.tests or not set(test.lights).isdisjoint(forbidden.lights)


def forbids_denial(forbidden: Forbidden, negative: Negative) -> bool:
    return not set(negative.lights).isdisjoint(forbidden.lights)
