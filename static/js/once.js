/* Sends a form that changes something only once, however often its button is pressed.
   The button stays enabled, since a disabled one would not be posted; it says that it is at work. */

const LET_GO = 10_000;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || event.defaultPrevented) return;
  if (form.dataset.sent) return event.preventDefault();
  form.dataset.sent = "1";
  event.submitter?.setAttribute("aria-disabled", "true");
  // An answer that is a file leaves the page standing.
  setTimeout(release, LET_GO, form);
});

const release = (form) => {
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("[aria-disabled]")) button.removeAttribute("aria-disabled");
};

addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach(release));
