"""What tests ran is summed by room, and the rooms are those of the pure half."""

import pytest

from tests.benchmarks.covered import Covered, by_room, covered_text, is_in, pure_half
from tests.benchmarks.house import TOP

FILES = {
    "app/errors.py": Covered(lines=10, lines_run=10),
    "app/money/tax.py": Covered(lines=60, lines_run=59, branches=8, branches_run=5),
    "app/money/amount.py": Covered(lines=40, lines_run=40, branches=4, branches_run=4),
}

TABLE = """\
                                   lines      run  branches      run
errors                                10  100.0 %         0        –
money                                100   99.0 %        12   75.0 %
all                                  110   99.0 %        12   75.0 %

Most missed:
app/money/tax.py                      60   98.3 %         8   62.5 %"""


def test_the_modules_of_a_room_are_summed():
    assert by_room(FILES)["money"] == Covered(lines=100, lines_run=99, branches=12, branches_run=9)


def test_shares_are_rounded_down_and_a_module_without_a_miss_is_not_named():
    assert covered_text(FILES) == TABLE


def test_the_summary_of_a_file_is_read():
    summary = {
        "num_statements": 5,
        "covered_lines": 4,
        "num_branches": 2,
        "covered_branches": 1,
        "missing_lines": 1,
    }
    assert Covered.of(summary) == Covered(lines=5, lines_run=4, branches=2, branches_run=1)


def test_the_pure_half_is_that_of_the_import_contract():
    pure = pure_half(TOP)
    assert {"app.errors", "app.lengths", "app.stock", "app.handbook"} <= set(pure)
    assert not {"app.web", "app.storage", "app.services"} & set(pure)


@pytest.mark.parametrize(
    ("module", "is_pure"),
    [
        ("app/errors.py", True),
        ("app/money/tax.py", True),
        ("app/money/kinds/__init__.py", True),
        ("app/moneybox.py", False),
        ("app/web/errors.py", False),
    ],
)
def test_a_module_belongs_to_the_packages_above_it(module, is_pure):
    assert is_in(("app.errors", "app.money"), module) is is_pure
