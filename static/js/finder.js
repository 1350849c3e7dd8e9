// [data-finder="URL"] around an input: a list of matches while one types (ARIA 1.2 combobox).
// The answer of URL?q= holds elements with role=option and data-value; the value chosen is written into the input.
// With data-finder-form the form is posted to URL, since the answer follows from all of it. With data-finder-private what is
// typed is posted, so that no address bears a name.
// The first match is taken by Enter or Tab. With data-finder-free what is typed may be new: there only Enter takes, what is
// pointed at with the arrows or the only match of what stands in the field. Enter before the list is there waits for it
// and takes the only match; it never sends the form. Page Up and Page Down go on by what the list shows. Escape leaves
// what was typed. From a key until its list is there, data-busy, what is still shown is of another text: no key takes of it.

const PAUSE = 100; // ms without a key

let open = null; // {input, popup, list, at}: the one list that is shown
let request = null;
let timer = 0;
let due = null; // the input whose list is under way
let awaited = null; // the same, once Enter was pressed in it
let choosing = false;

const finderOf = (target) => target.matches?.("[data-finder] input") ? target.closest("[data-finder]") : null;

document.addEventListener("focusin", ({ target }) => { if (finderOf(target)) prepare(target); });
document.addEventListener("focusout", ({ target }) => { if (finderOf(target)) close(); });
document.addEventListener("input", ({ target }) => {
  if (choosing || !finderOf(target)) return;
  clearTimeout(timer);
  request?.abort();
  awaited = null;
  if (!target.value.trim()) return close();
  waitFor(target);
  timer = setTimeout(() => look(target), PAUSE);
});
document.addEventListener("keydown", (event) => {
  if (finderOf(event.target) && !event.isComposing) press(event);
});
document.addEventListener("pointerdown", (event) => {
  if (event.target.closest?.(".finder-list")) event.preventDefault(); // the input keeps the focus
});
document.addEventListener("click", ({ target }) => {
  const option = target.closest?.(".finder-list [role=option]");
  if (option && open) choose(option);
});

function prepare(input) {
  input.select();
  if (input.getAttribute("role") === "combobox") return;
  const popup = document.createElement("div");
  popup.className = "finder-list";
  popup.hidden = true;
  popup.innerHTML = '<div role="listbox"></div><p class="finder-none" hidden></p>';
  const list = popup.firstElementChild;
  list.id = `${input.id}-list`;
  list.setAttribute("aria-label", input.labels[0]?.firstChild.textContent ?? "Matches");
  finderOf(input).append(popup);
  for (const [name, value] of Object.entries({
    role: "combobox", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": list.id,
  })) input.setAttribute(name, value);
}

// What is marked would be taken, so nothing of a list for another text is.
function waitFor(input) {
  due = input;
  finderOf(input).toggleAttribute("data-busy", true);
  if (open) mark(-1);
}

async function look(input) {
  const finder = finderOf(input);
  clearTimeout(timer);
  request?.abort();
  const mine = request = new AbortController();
  const url = new URL(finder.dataset.finder, location.href);
  const text = input.value.trim(), isPrivate = finder.hasAttribute("data-finder-private");
  if (!isPrivate) url.searchParams.set("q", text);
  waitFor(input);
  try {
    const asked = { headers: { "X-Partial": "1" }, signal: mine.signal };
    if (isPrivate) Object.assign(asked, { method: "POST", body: new URLSearchParams({ q: text }) });
    if (finder.hasAttribute("data-finder-form")) Object.assign(asked, { method: "POST", body: new URLSearchParams(new FormData(input.form)) });
    const answer = await fetch(url, asked);
    if (!answer.ok) throw new Error(`status ${answer.status}`);
    const html = await answer.text();
    if (!mine.signal.aborted && document.activeElement === input) show(input, html);
  } catch (error) {
    if (error.name === "AbortError") return;
    close();
    say("The list could not be fetched. Type the code and go on.", "risk");
  } finally {
    if (!mine.signal.aborted && due === input) settle();
  }
}

function settle() {
  if (due) finderOf(due)?.removeAttribute("data-busy");
  due = null;
}

function show(input, html) {
  prepareAgain(input);
  const popup = finderOf(input).querySelector(".finder-list");
  const [list, none] = popup.children;
  const options = [...new DOMParser().parseFromString(html, "text/html").querySelectorAll("[role=option]")];
  options.forEach((option, row) => { option.id = `${list.id}-${row}`; option.setAttribute("aria-selected", "false"); });
  list.replaceChildren(...options);
  list.hidden = !options.length;
  const free = finderOf(input).hasAttribute("data-finder-free");
  none.hidden = options.length > 0 || free;
  none.textContent = `Nothing is like “${input.value.trim()}”.`;
  popup.hidden = !options.length && none.hidden;
  open = { input, popup, list, at: -1 };
  input.setAttribute("aria-expanded", String(options.length > 0));
  popup.scrollIntoView({ block: "nearest" });
  mark(options.length && !free ? 0 : -1);
  const enter = free && options.length === 1 ? "; Enter takes it" : "";
  say(options.length ? `${options.length} found${enter}` : none.textContent, "quiet");
  const only = awaited === input ? onlyMatch() : undefined;
  awaited = null;
  if (only) choose(only);
}

// A swap may have replaced the field while the request was under way.
function prepareAgain(input) {
  if (!finderOf(input).querySelector(".finder-list")) { input.removeAttribute("role"); prepare(input); }
}

function mark(at) {
  const options = [...open.list.children];
  open.at = options.length ? Math.min(Math.max(at, -1), options.length - 1) : -1;
  options.forEach((option, row) => option.setAttribute("aria-selected", String(row === open.at)));
  const current = options[open.at];
  if (current) {
    open.input.setAttribute("aria-activedescendant", current.id);
    current.scrollIntoView({ block: "nearest" });
  } else open.input.removeAttribute("aria-activedescendant");
}

function press(event) {
  const { key, target: input } = event;
  const page = key === "PageDown" || key === "PageUp";
  if (key === "ArrowDown" || key === "ArrowUp" || (page && open?.input === input)) {
    event.preventDefault();
    if (due === input) return;
    if (open?.input !== input) return look(input);
    const count = open.list.children.length;
    const down = key === "ArrowDown" || key === "PageDown";
    if (count && page) mark(Math.max(open.at + (down ? shown() : -shown()), 0));
    else if (count) mark(down ? (open.at + 1) % count : (open.at <= 0 ? count : open.at) - 1);
  } else if (key === "Enter" && due === input) {
    event.preventDefault();
    awaited = input;
  } else if (open?.input === input && (key === "Enter" || key === "Tab")) {
    const option = open.list.children[open.at] ?? (key === "Enter" ? onlyMatch() : undefined);
    if (key === "Enter") event.preventDefault();
    if (option) choose(option); else close();
  } else if (key === "Escape" && (open || due === input)) {
    event.preventDefault();
    close();
  }
}

// How many matches are seen at once, less one that stays in sight.
function shown() {
  return Math.max(Math.floor(open.list.clientHeight / open.list.firstElementChild.offsetHeight) - 1, 1);
}

function onlyMatch() {
  const matches = open.list.children;
  return matches.length === 1 ? matches[0] : undefined;
}

function choose(option) {
  const { input } = open;
  close();
  input.value = option.dataset.value;
  choosing = true;
  input.dispatchEvent(new Event("input", { bubbles: true }));
  input.dispatchEvent(new Event("change", { bubbles: true }));
  choosing = false;
}

function close() {
  clearTimeout(timer);
  request?.abort();
  settle();
  awaited = null;
  if (!open) return;
  open.popup.hidden = true;
  open.input.setAttribute("aria-expanded", "false");
  open.input.removeAttribute("aria-activedescendant");
  open = null;
}

function say(text, tone) {
  document.dispatchEvent(new CustomEvent("book:say", { detail: { text, tone } }));
}
