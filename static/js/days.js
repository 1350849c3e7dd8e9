// [data-day="coming|past|promised|closed"]: as one types, asks which day is meant, or which days; the answer stands beside it.
// Without this module it is told once the form was sent.

const PAUSE = 150; // ms without a key

let timer = 0;
let asked = 0;

document.addEventListener("input", ({ target }) => {
  if (!target.matches("[data-day]")) return;
  clearTimeout(timer);
  timer = setTimeout(() => ask(target), PAUSE);
});

async function ask(field) {
  const ours = ++asked; // an answer that a later key overtook is not shown
  const day = new URLSearchParams({ field: field.name, text: field.value, towards: field.dataset.day });
  try {
    const answer = await fetch(`/days?${day}`, { headers: { "X-Partial": "1" } });
    const html = await answer.text();
    if (answer.ok && ours === asked) document.dispatchEvent(new CustomEvent("book:swap", { detail: { html } }));
  } catch {
    // The form says it once it is sent.
  }
}
