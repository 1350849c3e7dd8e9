// form[data-live="URL"]: posts the form as one types and renews the page from the answer.
// The latest state wins: typing aborts what is under way. Without this module a button does it.

const PAUSE = 120; // ms without a key before text is sent
const SLOW = 250; // ms before waiting is shown
const READ = 1200; // ms of rest before new figures and questions, [data-say], are read out

const forms = new WeakMap();

document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (!form?.dataset.live || event.target.closest("[data-not-live]")) return;
  const typed = event.target.matches("textarea, input:not([type=radio], [type=checkbox], [type=color])");
  schedule(form, typed ? PAUSE : 0);
});

// What a browser brings back into the fields was not what the server answered.
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-live]")) {
    if ([...form.elements].some(isBroughtBack)) schedule(form, 0);
  }
});

function isBroughtBack(field) {
  if (field.matches("[type=checkbox], [type=radio]")) return field.checked !== field.defaultChecked;
  return field.matches("input, textarea") && field.value !== field.defaultValue;
}

function schedule(form, pause) {
  const state = forms.get(form) ?? {};
  forms.set(form, state);
  state.request?.abort();
  clearTimeout(state.timer);
  state.timer = setTimeout(() => post(form, state), pause);
}

async function post(form, state) {
  const request = state.request = new AbortController();
  const slow = setTimeout(() => busy(form, true), SLOW);
  try {
    const answer = await fetch(form.dataset.live, {
      method: "POST", body: typedIn(form), headers: { "X-Partial": "1" }, signal: request.signal,
    });
    if (!answer.ok && answer.status !== 422) throw new Error(`status ${answer.status}`);
    const html = await answer.text();
    if (request.signal.aborted) return;
    send("book:swap", { html, unready: answer.status === 422 });
    if (form.hasAttribute("data-live-failed")) recover(form);
    clearTimeout(state.saying);
    state.saying = setTimeout(() => say(form), READ);
  } catch (error) {
    if (error.name !== "AbortError") fail(form, error);
  } finally {
    clearTimeout(slow);
    if (state.request === request) busy(form, false);
  }
}

function busy(form, yes) {
  form.toggleAttribute("data-busy", yes);
  for (const part of form.querySelectorAll("[data-hold]")) part.setAttribute("aria-busy", String(yes));
}

function say(form) {
  const figures = [...form.querySelectorAll("[data-say]")].filter((figure) => !figure.closest("[data-stale]"));
  const text = figures.map((figure) => figure.textContent.trim()).join(" ");
  if (text) send("book:say", { text, tone: "quiet" });
}

function typedIn(form) {
  return new URLSearchParams([...new FormData(form)].filter(([, value]) => typeof value === "string"));
}

function fail(form, error) {
  form.toggleAttribute("data-live-failed", true);
  const why = error instanceof TypeError ? "the app does not answer" : "the app could not do it";
  send("book:say", { text: `Not worked out again: ${why}. What you typed is kept.`, tone: "risk" });
}

function recover(form) {
  form.removeAttribute("data-live-failed");
  send("book:say", { text: "Worked out again." });
}

function send(name, detail) {
  document.dispatchEvent(new CustomEvent(name, { detail }));
}
