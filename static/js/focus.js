/* Leads to what needs a change: the summary [data-focus] at the start, and from each of its links to the
   field, out of whatever it is folded into. */

const unfold = (element) => {
  for (let fold = element.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
};

document.querySelector("[data-focus]")?.focus();

document.addEventListener("click", (event) => {
  const link = event.target.closest?.(".error-summary a[href^='#']");
  const field = link && document.getElementById(link.hash.slice(1));
  if (!field) return;
  event.preventDefault();
  unfold(field);
  field.focus();
  (field.closest(".field") ?? field).scrollIntoView({ block: "center" });
});
