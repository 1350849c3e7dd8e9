// A form that changes something is sent once, however often its button is pressed.

const AGAIN = 8000; // ms after which a form may be sent again, as when the answer was a file to keep

const sent = new Map();

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || event.defaultPrevented) return;
  if (sent.has(form)) return event.preventDefault();
  sent.set(form, event.submitter);
  event.submitter?.setAttribute("aria-disabled", "true");
  setTimeout(() => release(form), AGAIN);
});

addEventListener("pageshow", releaseAll);
document.addEventListener("stayed", releaseAll); // guard.js asked, and the page was not left

function releaseAll() {
  for (const form of [...sent.keys()]) release(form);
}

function release(form) {
  sent.get(form)?.removeAttribute("aria-disabled");
  sent.delete(form);
}
