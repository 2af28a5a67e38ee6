"""All entries together, frozen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.entries.cause import Cause
from diagnose.entries.frame import Attribute, Caution, Source, Stage, Strengths
from diagnose.entries.observed import Check, Condition, State, Symptom
from diagnose.entries.remedy import Remedy

if TYPE_CHECKING:  # loaded when somebody mixes something or asks why, not at every start
    from diagnose.entries.reaction import Reaction
    from diagnose.entries.solution import Solution


@dataclass(frozen=True, kw_only=True, eq=False)
class Knowledge:
    """What is known about the craft.

    Args:
        version: hash of every byte the knowledge was read from
        causes: by "stage/name"
        everything else: by its own name
    """

    version: str
    stages: dict[str, Stage]
    strengths: Strengths
    sources: dict[str, Source]
    attributes: dict[str, Attribute]
    symptoms: dict[str, Symptom]
    conditions: dict[str, Condition]
    states: dict[str, State]
    checks: dict[str, Check]
    causes: dict[str, Cause]
    remedies: dict[str, Remedy]
    cautions: dict[str, Caution]
    solutions: "Mapping[str, Solution]"
    reactions: "Mapping[str, Reaction]"

    def stage_of(self, cause: str) -> str:
        """The stage of a cause.

        Args:
            cause: "stage/name"
        """
        return cause.partition("/")[0]
