"""What a rule of the handbook consists of. Owns the types; the rules themselves stand by subject beside it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Foundation(StrEnum):
    """How well a rule is founded."""

    PUBLISHED = "published"
    COMMON = "common practice"
    DERIVED = "follows from other rules"
    OURS = "our own choice"
    MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a rule or its figures come from. text: a published title, or what is to be known about it."""

    standing: Foundation
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedExample:
    """A worked example.

    text: a sentence with the figures' names in braces. figures: each name and what is printed there,
    worked by hand for a shop with the usual allowances in millimetres.
    """

    text: str
    figures: Mapping[str, str]

    def sentence(self, figures: Mapping[str, str] | None = None) -> str:
        """Return the example in words, with its own figures or those of another shop."""
        return self.text.format(**(self.figures if figures is None else figures))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule.

    number: a letter for the subject and a number, "G12". text: sentences that end with a full stop.
    formulas: each one line. settings: what a shop may set, as "section.field" of the settings pages; a
    section alone where it is a list. drawing: name of its drawing, empty where there is none. uncited: why no code names the rule;
    empty where code does.
    """

    number: str
    title: str
    text: str
    formulas: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    sources: tuple[Source, ...]
    example: WorkedExample | None = None
    drawing: str = ""
    uncited: str = ""

    @property
    def subject(self) -> str:
        """The letter of the subject that it belongs to."""
        return self.number[0]


PUBLISHED, COMMON, DERIVED = Foundation.PUBLISHED, Foundation.COMMON, Foundation.DERIVED
OURS, MEMORY = Foundation.OURS, Foundation.MEMORY
