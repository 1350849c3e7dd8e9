/* A form that answers while one types: form[data-live=ADDRESS].

   The whole form is posted to ADDRESS with the header X-Partial: 1; the answer is HTML, also at 422.
   Every element of it with an id and
     data-swap             takes the place of the content of the element with that id here,
     data-swap="if-shown"  only where something stands there already (a summary of faults must not jump in),
     data-grow             adds those of its children that are not here yet (a further row of fields),
     data-say              is read out, once typing rests.
   What one types in is never touched. */

const TYPING_RESTS = 120;
const HALF_TYPED = 700;
const READ_OUT = 900;
const LOST = "It could not be worked out just now. What you typed is still here.";

const wait = (time, signal) => new Promise((go, stop) => {
  const timer = setTimeout(go, time);
  signal?.addEventListener("abort", () => { clearTimeout(timer); stop(signal.reason); });
});

const bodyOf = (form) => {
  const body = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (typeof value === "string") body.append(name, value);
  return body;
};

const typedIn = (element) => element?.matches("textarea, select, input:not([type=radio], [type=checkbox])");

/* A summary is known by its first words: figures that follow them change. */
const summaries = (root) => {
  const seen = new Map();
  return [...root.querySelectorAll("details")].map((details) => {
    const walker = document.createTreeWalker(details.querySelector("summary") ?? details, NodeFilter.SHOW_TEXT);
    let words = "";
    while (!words && walker.nextNode()) words = walker.currentNode.data.trim();
    const count = (seen.get(words) ?? 0) + 1;
    seen.set(words, count);
    return [`${words} ${count}`, details];
  });
};

const focusKey = (element) => {
  if (!element) return null;
  if (element.id) return (root) => root.querySelector(`#${CSS.escape(element.id)}`);
  if (element.name) return (root) => root.querySelector(`[name="${CSS.escape(element.name)}"][value="${CSS.escape(element.value)}"]`);
  if (!element.matches("summary")) return null;
  const key = (root) => summaries(root).find(([, details]) => details.contains(element))?.[0];
  const words = key(element.closest("[data-swap]"));
  return (root) => summaries(root).find(([found]) => found === words)?.[1].querySelector("summary");
};

const swap = (here, there) => {
  if (here.isEqualNode(there)) return;
  if (here.dataset.swap === "if-shown" && !here.childElementCount) return;
  const focused = here.contains(document.activeElement) ? document.activeElement : null;
  if (typedIn(focused)) return;
  const refocus = focusKey(focused);
  const open = new Map(summaries(here).map(([words, details]) => [words, details.open]));
  for (const [words, details] of summaries(there)) if (open.has(words)) details.open = open.get(words);
  for (const { name, value } of there.attributes) if (here.getAttribute(name) !== value) here.setAttribute(name, value);
  here.replaceChildren(...there.childNodes);
  refocus?.(here)?.focus({ preventScroll: true });
};

const grow = (here, there) => {
  for (const child of [...there.children]) {
    const parts = child.id ? [child] : [...child.querySelectorAll("[id]")];
    if (parts.length && !parts.some((part) => document.getElementById(part.id))) here.append(child);
  }
};

const takeIn = (answer) => {
  for (const there of answer.querySelectorAll("[data-grow][id]")) {
    const here = document.getElementById(there.id);
    if (here) grow(here, there);
  }
  for (const there of [...answer.querySelectorAll("[data-swap][id]")]) {
    const here = document.getElementById(there.id);
    if (here && there.isConnected) swap(here, there);
  }
  for (const there of answer.querySelectorAll("[aria-describedby][id]")) {
    const here = document.getElementById(there.id);
    if (here) here.toggleAttribute("aria-invalid", there.hasAttribute("aria-invalid"));
    if (here?.hasAttribute("aria-invalid")) here.setAttribute("aria-invalid", "true");
  }
};

const tell = (id, text) => {
  const place = document.getElementById(id);
  if (place && place.textContent !== text) place.textContent = text;
};

/* Whether a browser brought back what was typed before: the server answered something else then. */
const broughtBack = (form) => [...form.elements].some((field) => field.options
  ? [...field.options].some((option) => option.selected !== option.defaultSelected && [...field.options].some((o) => o.defaultSelected))
  : field.type === "radio" || field.type === "checkbox" ? field.checked !== field.defaultChecked : "defaultValue" in field && field.value !== field.defaultValue);

const enliven = (form) => {
  let running = null;
  let last = broughtBack(form) ? "" : bodyOf(form).toString();
  let saying = 0;
  form.dataset.liveOn = "";

  const busy = (yes) => {
    for (const part of form.querySelectorAll("[data-swap][aria-live]")) part.setAttribute("aria-busy", String(yes));
  };

  const ask = async (rest) => {
    running?.abort();
    const { signal } = (running = new AbortController());
    try {
      await wait(rest, signal);
      const body = bodyOf(form);
      if (body.toString() === last) return busy(false);
      busy(true);
      const response = await fetch(form.dataset.live, { method: "POST", body, headers: { "X-Partial": "1" }, signal });
      if (!response.ok && response.status !== 422) throw new Error(`status ${response.status}`);
      const answer = new DOMParser().parseFromString(await response.text(), "text/html");
      const active = document.activeElement;
      // A size half typed is no fault yet: it is left alone until the hand rests.
      const half = typedIn(active) && active.id && answer.getElementById(active.id)?.hasAttribute("aria-invalid");
      if (half) await wait(HALF_TYPED, signal);
      if (signal.aborted) return;
      last = body.toString();
      takeIn(answer);
      delete form.dataset.liveLost;
      tell("status", "");
      busy(false);
      clearTimeout(saying);
      saying = setTimeout(() => {
        const words = [...form.querySelectorAll("[data-say]")].map((part) => part.textContent.replace(/\s+/g, " ").trim());
        tell("spoken", words.join(", "));
      }, READ_OUT);
    } catch (reason) {
      if (signal.aborted) return;
      busy(false);
      last = "";
      form.dataset.liveLost = "";
      tell("status", LOST);
    }
  };

  const shown = (event) => event.target.form === form;
  form.addEventListener("input", (event) => shown(event) && ask(TYPING_RESTS));
  form.addEventListener("change", (event) => shown(event) && ask(0));
  form.addEventListener("submit", () => running?.abort());
  addEventListener("online", () => form.dataset.liveLost !== undefined && ask(0));
  addEventListener("pageshow", () => {
    if (broughtBack(form)) last = "";
    if (!last) ask(TYPING_RESTS);
  });
};

for (const form of document.querySelectorAll("form[data-live]")) enliven(form);
