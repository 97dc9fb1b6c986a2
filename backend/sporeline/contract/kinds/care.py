"""Care plans, and answers to what they ask."""

from __future__ import annotations

from sporeline.contract.fields import Day, Name, Plan
from sporeline.contract.registry import DataSchema, description, fact


@description("plan.described")
class PlanDescribed(DataSchema):
    """A care plan of one's own."""

    title = Name("a title")


@description("plan.set")
class PlanSet(DataSchema):
    """Its text from then on; boxes name this entry."""

    plan = Plan("a care plan", required=True)


@fact("task.answered", state={"name": "task", "by": "task"})
class TaskAnswered(DataSchema):
    """What was answered to a task; `until` with “later”."""

    task = Name("the task", required=True)
    answer = Name("an answer", required=True)
    until = Day("the day on which to ask again")
