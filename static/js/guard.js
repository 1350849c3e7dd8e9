// form[data-guard]: leaving the page with changes that were not kept asks first, also where another form is sent.
// A form that came back with faults holds such changes from the start.

const STAYED = 500; // ms after the question in which a page that is left is gone

const changed = new Set(document.querySelectorAll("form[data-guard]:has(.error-summary)"));
let sending = null;

document.addEventListener("input", ({ target }) => {
  if (target.form?.hasAttribute("data-guard")) changed.add(target.form);
});
document.addEventListener("submit", (event) => {
  // After every other listener: a second press of the button is held back, the first one still leaves.
  queueMicrotask(() => { if (!event.defaultPrevented) sending = event.target; });
});
addEventListener("pageshow", () => { sending = null; });
addEventListener("beforeunload", (event) => {
  if (![...changed].some((form) => form.isConnected && form !== sending)) return;
  event.preventDefault();
  sending = null;
  setTimeout(() => document.dispatchEvent(new Event("stayed")), STAYED);
});
