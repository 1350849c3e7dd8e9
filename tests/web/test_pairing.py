"""Codes by which a phone is paired: once, for ten minutes, and not to be guessed."""

from datetime import UTC, datetime, timedelta

import pytest

from app.web.door.pairing import Pairing, Paused, Tries, WrongCode
from app.web.kit.visitor import Role

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
HERE, THERE = "192.0.2.20", "192.0.2.21"


class Ticks:
    """Seconds that pass when a test says so."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def ticks() -> Ticks:
    return Ticks()


@pytest.fixture
def pairing(ticks: Ticks) -> Pairing:
    return Pairing(ticks)


def wrong(digits: str) -> str:
    """Another code than this one."""
    return f"{(int(digits) + 1) % 10**6:06d}"


def test_a_code_has_six_digits_and_counts_once(pairing: Pairing) -> None:
    code = pairing.make(Role.BENCH, NOW)
    assert len(code.digits) == 6
    assert code.digits.isdecimal()
    assert code.until == NOW + timedelta(minutes=10)
    assert pairing.take(f" {code.digits[:3]} {code.digits[3:]} ", HERE) == code
    with pytest.raises(WrongCode):
        pairing.take(code.digits, HERE)


@pytest.mark.parametrize(("seconds", "holds"), [(599, True), (600, False)])
def test_a_code_holds_for_ten_minutes(
    pairing: Pairing, ticks: Ticks, seconds: int, *, holds: bool
) -> None:
    code = pairing.make(Role.OFFICE, NOW)
    ticks.now += seconds
    assert (pairing.code is not None) == holds
    if holds:
        assert pairing.take(code.digits, HERE).role is Role.OFFICE
    else:
        with pytest.raises(WrongCode):
            pairing.take(code.digits, HERE)


def test_a_new_code_takes_the_place_of_the_one_before(pairing: Pairing) -> None:
    first, second = pairing.make(Role.BENCH, NOW), pairing.make(Role.BENCH, NOW)
    if first.digits != second.digits:  # which they are once in a million times
        with pytest.raises(WrongCode):
            pairing.take(first.digits, HERE)
    assert pairing.take(second.digits, HERE) == second


@pytest.mark.parametrize("typed", ["", "   ", "abc", "²³¹", "123456789012"])
def test_what_is_no_code_is_a_wrong_one(pairing: Pairing, typed: str) -> None:
    with pytest.raises(WrongCode):
        pairing.take(typed, HERE)
    pairing.make(Role.BENCH, NOW)
    with pytest.raises(WrongCode):
        pairing.take(typed, HERE)


def test_after_five_wrong_codes_of_one_address_no_code_of_it_is_looked_at(
    pairing: Pairing, ticks: Ticks
) -> None:
    code = pairing.make(Role.BENCH, NOW)
    for _ in range(5):
        with pytest.raises(WrongCode):
            pairing.take(wrong(code.digits), HERE)
        ticks.now += 60
    with pytest.raises(Paused, match="Try again in 6 minutes") as paused:
        pairing.take(code.digits, HERE)  # the first was five minutes ago
    assert paused.value.seconds == 301
    assert pairing.take(code.digits, THERE) == code
    code = pairing.make(Role.BENCH, NOW)
    ticks.now += 301
    assert pairing.take(code.digits, HERE) == code


def test_after_ten_wrong_codes_of_all_no_code_is_looked_at(pairing: Pairing, ticks: Ticks) -> None:
    code = pairing.make(Role.BENCH, NOW)
    for number in range(10):
        with pytest.raises(WrongCode):
            pairing.take(wrong(code.digits), f"192.0.2.{number}")
    with pytest.raises(Paused):
        pairing.take(code.digits, "192.0.2.99")
    with pytest.raises(Paused):
        pairing.take("", "192.0.2.98")
    ticks.now += 600
    assert pairing.tries == Tries(wrong=0, seconds=None)
    with pytest.raises(WrongCode):  # it is looked at again, and is too old by now
        pairing.take(code.digits, "192.0.2.99")


def test_a_new_code_is_looked_at_whatever_was_tried_of_the_one_before(
    pairing: Pairing, ticks: Ticks
) -> None:
    code = pairing.make(Role.BENCH, NOW)
    for number in range(10):
        with pytest.raises(WrongCode):
            pairing.take(wrong(code.digits), f"192.0.2.{number // 5}")
    ticks.now += 100
    assert pairing.tries == Tries(wrong=10, seconds=500)
    with pytest.raises(Paused):
        pairing.take(code.digits, "192.0.2.99")
    code = pairing.make(Role.BENCH, NOW)
    assert pairing.tries == Tries(wrong=0, seconds=None)
    with pytest.raises(Paused):  # whoever guessed goes on waiting
        pairing.take(code.digits, "192.0.2.0")
    for number in range(10):  # ten tries of the new one too, and no more
        with pytest.raises(WrongCode):
            pairing.take(wrong(code.digits), f"192.0.2.{number + 100}")
    with pytest.raises(Paused):
        pairing.take(code.digits, "192.0.2.99")
    assert pairing.take(pairing.make(Role.BENCH, NOW).digits, "192.0.2.99")


def test_tries_in_a_pause_do_not_make_it_longer(pairing: Pairing, ticks: Ticks) -> None:
    for _ in range(5):
        with pytest.raises(WrongCode):
            pairing.take("1", HERE)
    for _ in range(599):
        ticks.now += 1
        with pytest.raises(Paused):
            pairing.take("1", HERE)
    ticks.now += 1
    with pytest.raises(WrongCode):
        pairing.take("1", HERE)


def test_a_code_that_led_to_nothing_is_given_back_unless_there_is_a_newer_one(
    pairing: Pairing,
) -> None:
    code = pairing.make(Role.BENCH, NOW)
    pairing.give_back(pairing.take(code.digits, HERE))
    assert pairing.take(code.digits, HERE) == code
    newer = pairing.make(Role.BENCH, NOW)
    pairing.give_back(code)
    assert pairing.code == newer
