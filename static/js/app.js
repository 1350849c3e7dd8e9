// What every page does: says what goes on, and leads to what is wrong.
// Other modules speak to it by an event: book:say {text, tone}, tone "", "risk" or "quiet" (heard, not seen).

const status = document.getElementById("status");
let clearing = 0;

document.addEventListener("book:say", ({ detail: { text, tone = "" } }) => {
  clearTimeout(clearing);
  status.dataset.tone = tone;
  status.textContent = text;
  if (text && tone !== "risk") clearing = setTimeout(() => { status.textContent = ""; }, 5000);
});

document.querySelector("[data-focus]")?.focus();

document.addEventListener("click", (event) => {
  const link = event.target.closest(".error-summary a");
  const field = link && document.getElementById(link.hash.slice(1));
  if (!field) return;
  event.preventDefault();
  for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  const control = field.matches("fieldset") ? field.querySelector("input, select, textarea") ?? field : field;
  control.focus();
  control.scrollIntoView({ block: "center" });
});

// A chosen link of the menu ends it, also where the page stays (same address, other fragment).
document.getElementById("menu")?.addEventListener("click", (event) => {
  const menu = event.currentTarget;
  if (event.target.closest("a") && menu.matches(":popover-open")) menu.hidePopover();
});

// "/" goes to the field that finds, unless one is typing.
document.addEventListener("keydown", (event) => {
  const find = document.getElementById("find");
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || !find || event.target.closest("input, select, textarea")) return;
  event.preventDefault();
  find.focus();
  find.select();
});
