// button[data-fill='{"name": "value"}'] in a live form: types these values into the fields, which then work themselves
// out. Elsewhere, and without this module, the button asks the server for the same.
//   data-stay          one goes on from the button, and not from the field

// The field that is typed in keeps the focus under the pointer: the error that waits until it is left would move the button away.
document.addEventListener("mousedown", (event) => { if (event.target.closest("[data-fill]")) event.preventDefault(); });

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-fill]");
  const form = button?.form;
  if (!form?.dataset.live || form.hasAttribute("data-live-failed")) return;
  event.preventDefault();
  const filled = [];
  for (const [name, value] of Object.entries(JSON.parse(button.dataset.fill))) {
    const field = form.elements[name];
    if (field && field.value !== value) filled.push(field);
    if (field) field.value = value;
  }
  if (button.hasAttribute("data-stay")) return void button.dispatchEvent(new Event("input", { bubbles: true }));
  const shown = filled.find((field) => field.matches("input") && field.value) ?? filled[0];
  shown?.focus({ preventScroll: true });
  shown?.dispatchEvent(new Event("input", { bubbles: true }));
});
