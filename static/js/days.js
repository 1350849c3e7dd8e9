// [data-day="coming|past|promised|closed"]: as one types, asks which day is meant, or which days; the answer stands beside it.
// Without this module it is told once the form was sent.

const PAUSE = 150; // ms without a key

let timer = 0;

document.addEventListener("input", ({ target }) => {
  if (!target.matches("[data-day]")) return;
  clearTimeout(timer);
  timer = setTimeout(() => ask(target), PAUSE);
});

async function ask(field) {
  const asked = new URLSearchParams({ field: field.name, text: field.value, towards: field.dataset.day });
  try {
    const answer = await fetch(`/days?${asked}`, { headers: { "X-Partial": "1" } });
    if (answer.ok) document.dispatchEvent(new CustomEvent("book:swap", { detail: { html: await answer.text() } }));
  } catch {
    // The form says it once it is sent.
  }
}
