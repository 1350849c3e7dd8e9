// form[data-tick]: a box of the work, ticked in place; without this module the form is posted as any other.
// Comes before submit.js, which counts only the forms that leave the page.

const under = new WeakSet();

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.matches("form[data-tick]")) return;
  event.preventDefault();
  const box = event.submitter ?? form; // one form may hold the boxes of a whole page
  if (under.has(box)) return;
  under.add(box);
  const shown = show(box);
  try {
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form, event.submitter)), headers: { "X-Partial": "1" } });
    if (!answer.ok) {
      takeBack(shown);
      return post(form, event.submitter ?? {}); // the page that comes back says why
    }
    const html = await answer.text();
    document.dispatchEvent(new CustomEvent("book:swap", { detail: { html } }));
    const text = document.getElementById("done")?.textContent;
    document.dispatchEvent(new CustomEvent("book:say", { detail: { text, tone: "quiet" } }));
  } catch {
    takeBack(shown);
    const text = "Not ticked: the app does not answer. Try again when it does.";
    document.dispatchEvent(new CustomEvent("book:say", { detail: { text, tone: "risk" } }));
  } finally {
    under.delete(box);
    for (const { box: each } of shown) each.removeAttribute("data-pending");
  }
});

// Shows at once what is asked for, marked as pending until the answer comes: the boxes that were turned.
function show(box) {
  const all = box.matches("[role=checkbox]") ? [box] : box.closest(".plan-parts, .plan-row, .plan-rows")?.querySelectorAll("[role=checkbox]") ?? [];
  const wanted = box.matches("[role=checkbox]") ? !checked(box) : box.name === "tick";
  const turned = [...all].filter((each) => checked(each) !== wanted && !each.hasAttribute("data-pending"));
  return turned.map((each) => {
    const was = each.getAttribute("aria-checked");
    turn(each, String(wanted));
    each.setAttribute("data-pending", "");
    return { box: each, was };
  });
}

function takeBack(shown) {
  for (const { box, was } of shown) turn(box, was);
}

const checked = (box) => box.getAttribute("aria-checked") === "true";

function turn(box, wanted) {
  box.setAttribute("aria-checked", wanted);
  box.closest(".workstep")?.classList.toggle("workstep-done", wanted === "true");
}

// As the browser posts it: with the name of the button that was pressed.
function post(form, { name, value }) {
  if (name) form.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
  form.submit();
}
