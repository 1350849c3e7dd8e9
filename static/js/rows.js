/* Adds and removes rows of a repeated fieldset [data-rows=NAME] without a way to the server.
   Rows [data-row] hold fields whose paths carry the row's number; the <template> holds a blank one. */

const next = (set) => {
  const numbers = [...set.querySelectorAll("[name]")].map((field) => Number(field.name.slice(set.dataset.rows.length + 1).split(".")[0]));
  return Math.max(-1, ...numbers.filter(Number.isInteger)) + 1;
};

const blank = (set) => {
  const holder = document.createElement("template");
  holder.innerHTML = set.querySelector("template").innerHTML.replaceAll("__row__", String(next(set)));
  return holder.content.firstElementChild;
};

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-row-add], [data-row-remove]");
  const set = button?.closest("[data-rows]");
  if (!set?.querySelector("template")) return;
  event.preventDefault();
  const row = button.closest("[data-row]");
  if (row) {
    (row.nextElementSibling ?? row.previousElementSibling)?.querySelector("input, select, button")?.focus();
    row.remove();
  } else {
    const added = blank(set);
    set.querySelector("template").before(added);
    added.querySelector("input, select")?.focus();
  }
  set.dispatchEvent(new Event("change", { bubbles: true }));
});
