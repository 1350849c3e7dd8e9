// Renews parts of the page from an answer of the server, and keeps hands off what a person is doing.
// Listens to book:swap {html, unready}. Each element of the answer with an id and data-swap takes the
// place of the one in the page with that id:
//   data-swap="mend"   only while the page shows something there (a summary of faults shrinks, but does not pop up)
//   data-hold          stays, marked as old, until what is typed can be read again
//   data-so-far        what can be told of a piece with faults: takes the place of nothing and of its like, not of a whole piece
//   data-filled        in the answer: the texts of fields, as JSON by name, that the server filled in as usual
//   data-unfold        in the answer: the folds around it are opened
//   data-grow          in the answer's own element with an id: children not here yet are added (a further row of fields);
//                      those with an id are hidden while the answer does not want them, and keep what was typed in them
// A new error waits until its field is left: of the one being typed in, and of an empty one nobody has come to yet.

const waiting = new Map();
const left = new WeakSet();
let pressing = false;

addEventListener("pointerdown", () => { pressing = true; }, true);
for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => { pressing = false; }, true);

document.addEventListener("book:swap", ({ detail: { html, unready = false } }) => {
  const answer = new DOMParser().parseFromString(html, "text/html");
  const place = whereWeAre();
  for (const next of answer.querySelectorAll("[data-grow][id]")) grow(document.getElementById(next.id), next);
  for (const next of answer.querySelectorAll("[data-swap][id]")) {
    const old = document.getElementById(next.id);
    if (old && !next.parentElement.closest("[data-swap]")) renew(old, next, unready);
  }
  if (!document.querySelector(".error-summary")) document.title = document.title.replace(/^Error: /, "");
  returnTo(place);
});

// While the pointer is pressed nothing moves from under it, and a fold that is pressed shut opens again for what is wrong in it.
document.addEventListener("focusout", ({ target, relatedTarget }) => {
  left.add(target);
  if (!pressing) return tell(target);
  if (relatedTarget?.type === "submit") return; // the answer says it
  document.addEventListener("click", () => setTimeout(() => tell(target)), { once: true, capture: true });
});

function tell(target) {
  const id = `${target.id}-error`;
  if (!waiting.has(id)) return;
  put(document.getElementById(id), waiting.get(id));
  waiting.delete(id);
}

function grow(old, next) {
  const wanted = new Map([...next.children].map((child) => [child.id, !child.hidden]));
  for (const child of old?.children ?? []) if (child.id) child.hidden = !wanted.get(child.id);
  for (const child of old ? [...next.children] : []) {
    const ids = [...child.querySelectorAll("[id]")].map((part) => part.id);
    if (ids.length && !ids.some((id) => document.getElementById(id))) old.append(child);
  }
}

function holds(old, next) {
  const soFar = "data-so-far";
  return !old.hasAttribute("data-blank") && !(old.hasAttribute(soFar) && next.hasAttribute(soFar));
}

function renew(old, next, unready) {
  if (old.hasAttribute("data-hold")) {
    const held = unready && holds(old, next);
    old.toggleAttribute("data-stale", held);
    if (held) return;
  }
  if (next.dataset.swap === "mend") {
    if (!old.firstElementChild) return;
    next.querySelector("[role=alert]")?.removeAttribute("role");
  }
  waiting.delete(old.id);
  if (next.textContent && !old.textContent && isTooEarly(old)) waiting.set(old.id, next);
  else put(old, next);
}

function isTooEarly(error) {
  const control = error.id.endsWith("-error") && document.getElementById(error.id.slice(0, -6));
  return control && (control === document.activeElement || (control.value === "" && !left.has(control)));
}

function put(old, next) {
  if (!old || old.isEqualNode(next)) return;
  keepFolds(old, next);
  old.replaceWith(next);
  if (next.hasAttribute("data-unfold")) unfold(next);
  if (next.dataset.filled) fill(next);
  const control = document.getElementById(next.id.replace(/-(error|hint)$/, ""));
  if (control && next.dataset.inside) control.placeholder = next.dataset.inside;
  if (!control || !next.id.endsWith("-error")) return;
  if (!next.textContent) return control.removeAttribute("aria-invalid");
  control.setAttribute("aria-invalid", "true");
  unfold(control);
}

// What was changed meanwhile is not among them: any key overtakes the answer.
function fill({ dataset: { filled }, firstElementChild: { form } }) {
  for (const [name, value] of Object.entries(JSON.parse(filled))) {
    const field = form?.elements[name];
    if (field && field.value !== value) field.value = value;
  }
}

function unfold(within) {
  for (let fold = within.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
}

const nameOf = (fold) => {
  if (fold.id) return fold.id;
  const words = fold.querySelector("summary");
  return words?.firstElementChild?.firstChild?.textContent ?? words?.textContent;
};

function keepFolds(old, next) {
  const open = new Map([...old.querySelectorAll("details")].map((fold) => [nameOf(fold), fold.open]));
  for (const fold of next.querySelectorAll("details")) fold.open = open.get(nameOf(fold)) ?? fold.open;
}

function whereWeAre() {
  const at = document.activeElement;
  if (!at || at === document.body) return null;
  const find = at.id ? `#${CSS.escape(at.id)}`
    : at.name ? `[name="${CSS.escape(at.name)}"][value="${CSS.escape(at.value)}"]` : null;
  const fold = at.matches("summary") ? nameOf(at.parentElement) : null;
  return { at, find, fold, value: at.value, start: caret(at, "selectionStart"), end: caret(at, "selectionEnd") };
}

function caret(control, which) {
  try { return control[which] ?? null; } catch { return null; }
}

function returnTo(place) {
  if (!place || place.at.isConnected) return;
  const to = place.find ? document.querySelector(place.find)
    : [...document.querySelectorAll("details")].find((fold) => place.fold && nameOf(fold) === place.fold)?.firstElementChild;
  if (!to) return;
  if (place.start !== null && to.value !== place.value) to.value = place.value;
  to.focus({ preventScroll: true });
  if (place.start !== null) to.setSelectionRange(place.start, place.end);
}
