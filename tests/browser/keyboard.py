"""A person who only uses the keyboard, and how much of it."""

from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect

MOST_TABS = 90
MATCHES = "[data-finder]:not([data-busy]) .finder-list:not([hidden]) [role=option]"
"""The matches in the list under a field, once it is that of what stands there."""

KEY, MENTAL = 0.28, 1.35
"""Seconds for a key of an average typist and to get ready for a step.

Source: Card, Moran, Newell, The Keystroke-Level Model for User Performance Time, 1980.
"""


@dataclass
class Keyboard:
    """keys: pressed so far. touched: fields and buttons in which something was typed or chosen."""

    page: Page
    keys: int = 0
    touched: list[str] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """How long all of it takes by the keystroke-level model."""
        return self.keys * KEY + len(self.touched) * MENTAL

    def press(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)
            self.keys += 1

    @property
    def at(self) -> str:
        """Name, value or words of what has the focus."""
        return str(
            self.page.evaluate(
                "() => { const at = document.activeElement;"
                " return at.name ? (at.matches('button') ? at.value : at.name)"
                " : at.textContent.trim() }"
            )
        )

    def go_to(self, name: str) -> None:
        """Tab on until that field or button has the focus."""
        for _ in range(MOST_TABS):
            if self.at == name:
                return
            self.press("Tab")
        raise AssertionError(f"no Tab leads to {name}; at {self.at}")

    def type(self, name: str, text: str) -> None:
        """Go to a field and type; what stood there is replaced."""
        self.go_to(name)
        if self.page.evaluate("() => document.activeElement.value"):
            self.press("Control+a")
        self.page.keyboard.type(text)
        self.keys += len(text)
        self.touched.append(name)

    def find(self, name: str, text: str, found: str) -> None:
        """Type a part of a material and take the first match, which must be the one meant."""
        self.type(name, text)
        expect(self._options("[aria-selected=true]")).to_contain_text(found)
        self.press("Enter")
        expect(self._options()).to_have_count(0)

    def choose(self, name: str, text: str, found: str) -> None:
        """Type a part of a customer and choose the first match by the arrow."""
        self.type(name, text)
        expect(self._options().first).to_contain_text(found)
        self.press("ArrowDown", "Enter")

    def _options(self, which: str = "") -> Locator:
        """The matches in the list that is shown."""
        return self.page.locator(f"{MATCHES}{which}")

    def save(self) -> None:
        """Save the form from the field that one is in."""
        self.touched.append("save")
        self.press("Enter")

    def push(self, name: str) -> None:
        """Go to a button and press it."""
        self.go_to(name)
        self.touched.append(name)
        self.press("Enter")
