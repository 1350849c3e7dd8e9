// form[data-live="URL"]: posts the form as one types and renews the page from the answer. A form of method get asks for its
// own address instead, which the page then has.
// The latest state wins, and at most one request of a form is at the server: what is typed meanwhile waits for its
// answer, which is then overtaken and not shown. Without this module a button does it.

const PATIENCE = 2000; // ms after which an overtaken request is not waited for
const SLOW = 250; // ms before waiting is shown
const READ = 1200; // ms of rest before new figures and questions, [data-say], are read out

const forms = new WeakMap();

document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (form?.dataset.live && !event.target.closest("[data-not-live]")) ask(form);
});

// What a browser brings back into the fields was not what the server answered.
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-live]")) {
    if ([...form.elements].some(isBroughtBack)) ask(form);
  }
});

function isBroughtBack(field) {
  if (field.matches("[type=checkbox], [type=radio]")) return field.checked !== field.defaultChecked;
  return field.matches("input, textarea") && field.value !== field.defaultValue;
}

function ask(form) {
  const state = forms.get(form) ?? { typed: 0 };
  forms.set(form, state);
  state.typed += 1;
  if (!state.busy) return run(form, state);
  state.patience ??= setTimeout(() => state.request?.abort(), state.since + PATIENCE - performance.now());
}

async function run(form, state) {
  state.busy = true;
  const slow = setTimeout(() => busy(form, true), SLOW);
  let asked;
  do {
    await new Promise((done) => setTimeout(done)); // every listener has had the event
    asked = state.typed;
    await post(form, state, () => asked !== state.typed);
  } while (asked !== state.typed);
  clearTimeout(slow);
  busy(form, false);
  state.busy = false;
}

async function post(form, state, isOvertaken) {
  clearTimeout(state.patience);
  state.patience = undefined;
  state.request = new AbortController();
  state.since = performance.now();
  try {
    const own = form.method === "get" && `${form.dataset.live}?${typedIn(form)}`;
    const answer = await fetch(own || form.dataset.live, {
      ...own ? {} : { method: "POST", body: typedIn(form) }, headers: { "X-Partial": "1" }, signal: state.request.signal,
    });
    const html = await answer.text();
    if (isOvertaken()) return;
    if (own) history.replaceState(null, "", own);
    if (!answer.ok && answer.status !== 422) throw new Error(`status ${answer.status}`);
    for (const field of form.querySelectorAll("input[type=file]")) field.value = "";
    send("book:swap", { html, unready: answer.status === 422 });
    if (form.hasAttribute("data-live-failed")) recover(form);
    clearTimeout(state.saying);
    state.saying = setTimeout(() => say(form), READ);
  } catch (error) {
    if (!isOvertaken()) fail(form, error);
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

// A file goes along as long as its field holds it, which its answer empties; an empty one too, so that the answer says that.
function typedIn(form) {
  const typed = new FormData(form);
  if ([...typed.values()].some((value) => value.name)) return typed;
  return new URLSearchParams([...typed].filter(([, value]) => typeof value === "string"));
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
