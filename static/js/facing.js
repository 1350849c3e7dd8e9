// The screen that faces a customer. A page with something of the shop on it is covered, in every tab, as soon as the screen is turned,
// and keeps what is typed in it; when it is turned back it is there again. A page that the browser kept asks which way the screen faces.

const faces = document.documentElement.dataset.faces; // "customer", "shop", or "" where nothing is turned
const tabs = new BroadcastChannel("bevelbook-facing");
let cover = null;

if (faces) {
  tabs.postMessage(faces); // a page that was turned back by a form of its own tells the covered ones
  tabs.addEventListener("message", ({ data }) => heed(data));
  addEventListener("pageshow", ({ persisted }) => { if (persisted) ask(); });
}

document.addEventListener("submit", async (event) => {
  const form = event.target.closest("[data-turns]");
  if (!form || event.defaultPrevented) return;
  const to = form.elements.to.value;
  if (to === "shop" || form.hasAttribute("data-stays")) return;
  event.preventDefault(); // such a page is closed to the customer: it is covered where it is, with all that is typed in it
  await turn(to, form.elements.next.value);
});

async function turn(to, from = "") {
  const answer = await fetch("/turn", { method: "POST", body: new URLSearchParams({ to, from, next: "/turn" }) });
  if (!answer.ok) return;
  heed(to);
  tabs.postMessage(to);
}

async function ask() {
  if (faces === "shop") hide();
  heed(await (await fetch("/turn")).text());
}

function heed(way) {
  if (way === faces) return faces === "shop" ? show() : undefined;
  if (faces === "customer") location.reload();
  else hide();
}

function hide() {
  if (cover) return;
  const name = document.querySelector("[data-turns]")?.dataset.turns ?? document.title.split(" – ").at(-1);
  cover = document.createElement("main");
  cover.className = "cover";
  cover.innerHTML = '<h1></h1><p>This screen faces the customer.</p><p class="actions"><a class="button button-quiet" href="/quotes/new">A new quote</a><button class="button button-quiet" type="button">Turn back</button></p>';
  cover.firstElementChild.textContent = name;
  cover.querySelector("button").addEventListener("click", () => turn("shop"));
  document.documentElement.toggleAttribute("data-covered", true);
  document.body.append(cover);
  cover.querySelector("button").focus({ preventScroll: true });
}

function show() {
  document.documentElement.removeAttribute("data-covered");
  cover?.remove();
  cover = null;
}
