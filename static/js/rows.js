// [data-rows="name"]: adds and removes rows of a repeated fieldset in place. The rows are numbered from 0 in their
// order, as the server does it. In a live form, and without this module, the same buttons ask the server instead.

const FIELDS = "input:not([type=hidden]), select, textarea";

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-row-add], [data-row-remove]");
  const rows = button?.closest("[data-rows]");
  if (!rows) return;
  const template = rows.querySelector(":scope > template");
  if (!template) return;
  event.preventDefault();
  if (button.matches("[data-row-add]")) add(rows, template, button);
  else remove(rows, button);
});

function add(rows, template, button) {
  const row = template.content.firstElementChild.cloneNode(true);
  button.before(row);
  number(rows);
  row.querySelector(FIELDS)?.focus();
  changed(rows, button);
}

function remove(rows, button) {
  const row = button.closest("[data-row]");
  const next = row.nextElementSibling;
  row.remove();
  number(rows);
  (next.querySelector?.(FIELDS) ?? rows.querySelector("[data-row-add]")).focus();
  changed(rows, next);
}

function number(rows) {
  const name = rows.dataset.rows;
  const dotted = new RegExp(`^(${RegExp.escape?.(name) ?? name.replaceAll(".", "\\.")})\\.[^.]+\\.`);
  const dashed = new RegExp(`(^| )(${name.replaceAll(/[._]/g, "-")})-(?:--row--|\\d+)-`, "g");
  rows.querySelectorAll(":scope > [data-row]").forEach((row, index) => {
    for (const part of row.querySelectorAll("[name], [id], [for], [aria-describedby]")) {
      if (part.name) part.name = part.name.replace(dotted, `$1.${index}.`);
      for (const attribute of ["id", "for", "aria-describedby"]) {
        const value = part.getAttribute(attribute);
        if (value) part.setAttribute(attribute, value.replace(dashed, `$1$2-${index}-`));
      }
    }
    const button = row.querySelector("[data-row-remove]");
    if (button) button.value = `remove:${name}:${index}`;
  });
}

function changed(rows, near) {
  (rows.querySelector(FIELDS) ?? near).dispatchEvent(new Event("input", { bubbles: true }));
}
