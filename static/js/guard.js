// form[data-guard]: leaving the page with changes that were not kept asks first.
// A form that came back with faults holds such changes from the start.

const changed = new Set(document.querySelectorAll("form[data-guard]:has(.error-summary)"));
let leaving = false;

document.addEventListener("input", ({ target }) => {
  if (target.form?.hasAttribute("data-guard")) changed.add(target.form);
});
document.addEventListener("submit", (event) => {
  // After every other listener: a second press of the button is held back, the first one still leaves.
  queueMicrotask(() => { leaving ||= !event.defaultPrevented; });
});
addEventListener("pageshow", () => { leaving = false; });
addEventListener("beforeunload", (event) => {
  if (!leaving && [...changed].some((form) => form.isConnected)) event.preventDefault();
});
