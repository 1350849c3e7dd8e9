// Links within [data-views] change the view of a drawing in place; elsewhere and without this module they are links.

document.addEventListener("click", async (event) => {
  const link = event.target.closest("[data-views] a[href]");
  if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  try {
    const answer = await fetch(link.href, { headers: { "X-Partial": "1" } });
    if (!answer.ok) throw new Error(`status ${answer.status}`);
    const html = await answer.text();
    history.replaceState(null, "", link.href);
    document.dispatchEvent(new CustomEvent("book:swap", { detail: { html } }));
    document.querySelector("[data-views] [aria-current]")?.focus({ preventScroll: true });
  } catch {
    location.assign(link.href);
  }
});
