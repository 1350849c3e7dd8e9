"""Codes by which a phone is paired: six digits, once, for ten minutes, and not to be guessed.

Source: OWASP ASVS 5.0, 6.6.2-6.6.4 (codes of another channel: once, short-lived, attempts limited).
"""

import secrets
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from hmac import compare_digest

from app.errors import AppError
from app.web.kit.visitor import Role

DIGITS = 6
LASTS = timedelta(minutes=10)
MOST_OF_ONE, MOST_OF_ALL = 5, 10
"""Wrong codes within `LASTS`, from one address, and from all of them since a code was made, after which no code is looked at.
So at most ten of a million are tried of each code that was made. Source: ours.
"""


class WrongCode(AppError):
    """No such code is given out, or it was used, or it is too old."""

    code = "wrong-code"

    def __init__(self) -> None:
        super().__init__(
            "This code does not hold. It counts once and for ten minutes; make a new one on the "
            "computer, under Settings > Workshop."
        )


class Paused(AppError):
    """Too many wrong codes. seconds: how long no code is looked at."""

    code = "paused"

    def __init__(self, seconds: float) -> None:
        self.seconds = int(seconds) + 1
        minutes = -(-self.seconds // 60)
        super().__init__(
            "There were too many wrong codes, so none is looked at for now. Try again in "
            f"{minutes} {'minute' if minutes == 1 else 'minutes'}."
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tries:
    """Wrong codes that were typed since the last one was made. seconds: how long no code is looked at; None while one is."""

    wrong: int
    seconds: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """A code that was given out. until: by the shop's clock, to be shown. made: by one that nobody sets."""

    digits: str
    role: Role
    until: datetime
    made: float


class Pairing:
    """Gives out one code at a time, and takes it once. It lives in this process only. ticks: seconds, of no day."""

    def __init__(self, ticks: Callable[[], float] = time.monotonic) -> None:
        self._ticks = ticks
        self._code: Code | None = None
        self._wrong: list[tuple[float, str]] = []
        self._since_made: list[float] = []
        self._turn = threading.Lock()

    def make(self, role: Role, now: datetime) -> Code:
        """Give out a code, in the place of the one before; wrong ones are counted anew, those of each address go on."""
        digits = f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"
        with self._turn:
            self._since_made = []
            self._code = Code(digits=digits, role=role, until=now + LASTS, made=self._ticks())
            return self._code

    @property
    def code(self) -> Code | None:
        """The code that holds now."""
        code = self._code
        return code if code is not None and self._since(code.made) else None

    def forget(self) -> None:
        """Take the code back."""
        self._code = None

    def take(self, typed: str, address: str) -> Code:
        """Use up the code. address: where it was typed. Raises: WrongCode, Paused."""
        digits = "".join(each for each in typed if each.isdigit())
        with self._turn:
            self._check_tries(address)
            code = self.code
            # Compared whatever is out, so that the time it takes says nothing.
            right = compare_digest(digits.encode(), (code.digits if code else "").encode())
            if code is None or not right:
                self._wrong.append((self._ticks(), address))
                self._since_made.append(self._ticks())
                raise WrongCode
            self._code = None
            return code

    def give_back(self, code: Code) -> None:
        """Let a code hold again that led to nothing, unless another one was given out since."""
        with self._turn:
            self._code = self._code or code

    @property
    def tries(self) -> Tries:
        """What was tried in vain since the last code was made."""
        with self._turn:
            self._forget_old()
            tries = self._since_made
            seconds = self._pause(tries, MOST_OF_ALL) if len(tries) >= MOST_OF_ALL else None
            return Tries(wrong=len(tries), seconds=seconds)

    def _check_tries(self, address: str) -> None:
        self._forget_old()
        ours = [at for at, of in self._wrong if of == address]
        for tries, most in ((ours, MOST_OF_ONE), (self._since_made, MOST_OF_ALL)):
            if len(tries) >= most:
                raise Paused(self._pause(tries, most))

    def _forget_old(self) -> None:
        self._wrong = [each for each in self._wrong if self._since(each[0])]
        self._since_made = [at for at in self._since_made if self._since(at)]

    def _pause(self, tries: list[float], most: int) -> float:
        return tries[-most] + LASTS.total_seconds() - self._ticks()

    def _since(self, at: float) -> bool:
        return self._ticks() - at < LASTS.total_seconds()
