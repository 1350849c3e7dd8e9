"""How long a key takes until new figures stand on the screen: the quote page in Chromium, as one types."""

from collections.abc import Iterator, Sequence
from itertools import cycle, islice

from playwright.sync_api import Page, sync_playwright

from tests.benchmarks.sample import PIECE, Plan, shop_of
from tests.benchmarks.serving import serving
from tests.benchmarks.table import Row, Section
from tests.benchmarks.timing import Times
from tests.needs import chromium

FIELDS = ("artwork.size", "borders.left", "frames.0.material")
"""Where is typed: the last key is taken back and typed again, and again."""

KEYS_A_SECOND = 8
"""A fast typist, about 95 words a minute. Source: ours."""

_WATCH = """
const waiting = [];
window.taken = [];
window.asked = 0;
addEventListener("input", () => waiting.push(performance.now()), true);
addEventListener("book:swap", () => {
  const keys = waiting.splice(0);
  requestAnimationFrame(() => setTimeout(() => taken.push(...keys.map((key) => performance.now() - key))));
}, true);
window.renewed = () => new Promise((done) => {
  const look = () => { if (taken.length) done(taken.splice(0)); else setTimeout(look, 5); };
  look();
});
const ask = fetch;
window.fetch = (url, ...rest) => {
  if (String(url).includes("live=1")) asked += 1;
  return ask(url, ...rest);
};
"""
"""From the input event of a key until the frame after the parts of the page were renewed."""


def measure(plan: Plan) -> Section:
    """Keys one by one, each after the figures of the one before, then as many without a rest."""
    with (
        serving(shop_of(plan.data, plan.few)) as server,
        sync_playwright() as playwright,
        playwright.chromium.launch(
            executable_path=chromium(), args=["--no-sandbox", "--disable-gpu"]
        ) as browser,
    ):
        page = browser.new_page()
        page.add_init_script(_WATCH)
        page.goto(f"{server.address}/quotes/new")
        _fill(page)
        one_by_one = Times.of(list(_one_by_one(page, plan.keys)))
        before = _asked(page)
        fast = Times.of(_fast(page, plan.keys))
        asked = _asked(page) - before
    return Section(
        title=f"From a key to new figures in Chromium, {plan.keys} keys in size, border and moulding",
        rows=(
            Row(what="p50, key by key", measured=one_by_one.percentile(50), unit="ms"),
            Row(what="p95, key by key", measured=one_by_one.percentile(95), unit="ms", most=100),
            Row(
                what=f"p50 at {KEYS_A_SECOND} keys a second",
                measured=fast.percentile(50),
                unit="ms",
            ),
            Row(
                what=f"p95 at {KEYS_A_SECOND} keys a second",
                measured=fast.percentile(95),
                unit="ms",
            ),
            Row(what="  asked of the server", measured=asked, unit="times"),
        ),
    )


def _fill(page: Page) -> None:
    """Type the piece, whose fields come as they are needed; leave it worked out."""
    for name, text in PIECE.items():
        page.evaluate(
            """([name, text]) => {
              const field = document.querySelector("form[data-live]").elements[name];
              if (field instanceof RadioNodeList) return;
              field.value = text;
              field.dispatchEvent(new InputEvent("input", { bubbles: true }));
              return renewed();
            }""",
            [name, text],
        )


def _keys(keys: int) -> Iterator[tuple[str, str]]:
    """Fields and keys: in each field one is taken back and typed again until it is the next one's turn."""
    for field in FIELDS:
        last = PIECE[field][-1]
        for key in islice(cycle(("Backspace", last)), keys // len(FIELDS)):
            yield field, key


def _one_by_one(page: Page, keys: int) -> Iterator[float]:
    for field, key in _keys(keys):
        _go_to(page, field)
        page.keyboard.press(key)
        yield from page.evaluate("renewed()")
        page.wait_for_timeout(30)


def _fast(page: Page, keys: int) -> Sequence[float]:
    for field, key in _keys(keys):
        _go_to(page, field)
        page.keyboard.press(key)
        page.wait_for_timeout(1000 / KEYS_A_SECOND)
    page.wait_for_timeout(1000)
    times: list[float] = page.evaluate("taken")
    return times


def _go_to(page: Page, field: str) -> None:
    """Put the caret behind what stands in a field, unless it is there."""
    page.evaluate(
        """(name) => {
          const field = document.querySelector("form[data-live]").elements[name];
          if (document.activeElement === field) return;
          for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
          field.focus();
          field.setSelectionRange(field.value.length, field.value.length);
        }""",
        field,
    )


def _asked(page: Page) -> int:
    asked: int = page.evaluate("asked")
    return asked
