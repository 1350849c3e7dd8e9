"""The proof of a plan, by code that did not make it (C4).

Knows the questions and the answers and nothing of how a plan is found: it imports no planner. Every
fault is a sentence that says what is wrong; a plan without faults may be shown, kept and cut. The two
kinds of stock are proven in `checker_sticks` and `checker_sheets`.
"""

from app.cutting.checker.sheets import faults_of_sheet_plan
from app.cutting.checker.sticks import faults_of_stick_plan

__all__ = ["faults_of_sheet_plan", "faults_of_stick_plan"]
