"""What is said to the child process that solves, and what it answers: one JSON text each."""

from dataclasses import dataclass

from app.codec import Codec
from app.cutting import Asked, Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverJob:
    """A question, and how many seconds the solver is given for it."""

    asked: Asked
    seconds: int


JOB: Codec[SolverJob] = Codec("job", SolverJob)
ANSWER: Codec[Plan] = Codec("plan", Plan)
