// [data-watch="URL"]: work that goes on; its part of the page is renewed in place until there is nothing more to watch.
// Without this module the page comes anew by itself.

const PAUSE = 700; // ms between two looks
const LATER = 4000; // ms where the app did not answer

function watch() {
  const part = document.querySelector("[data-watch]");
  if (part) setTimeout(look, PAUSE, part.dataset.watch);
}

async function look(address) {
  try {
    const answer = await fetch(address, { headers: { "X-Partial": "1" } });
    const html = await answer.text();
    if (!answer.ok || !html.includes("data-watch")) return location.replace(address);
    document.dispatchEvent(new CustomEvent("book:swap", { detail: { html } }));
    watch();
  } catch {
    const text = "The app does not answer; looking again.";
    document.dispatchEvent(new CustomEvent("book:say", { detail: { text, tone: "risk" } }));
    setTimeout(look, LATER, address);
  }
}

watch();
