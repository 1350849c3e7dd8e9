/* Asks before one leaves a form that was changed and not sent: form[data-guard]. */

const bodyOf = (form) => new URLSearchParams([...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "view")).toString();

for (const form of document.querySelectorAll("form[data-guard]")) {
  const clean = bodyOf(form);
  let sent = false;
  form.addEventListener("submit", () => { sent = true; });
  addEventListener("pageshow", () => { sent = false; });
  addEventListener("beforeunload", (event) => {
    if (!sent && bodyOf(form) !== clean) event.preventDefault();
  });
}
