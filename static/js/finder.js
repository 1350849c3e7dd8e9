/* Finds while one types: [data-finder=ADDRESS] around an input becomes a combobox (ARIA 1.2).

   ADDRESS?q=… with the header X-Partial: 1 answers a list of <li role="option" data-value="…">. Choosing one
   writes its data-value. The first is marked at once, so that Tab takes it, unless the element also says
   data-free: then what was typed may be something new and stays unless one is picked with the arrows. */

const TYPING_RESTS = 90;
const GONE = "The list could not be fetched; type the code or the whole name.";

const make = (name, attributes) => Object.assign(document.createElement(name), attributes);

class Finder {
  #options = [];
  #current = -1;
  #asking = null;
  #written = false;

  constructor(field) {
    this.field = field;
    this.input = field.querySelector("input");
    this.list = make("ul", { id: `${this.input.id}-list`, className: "finder-list", role: "listbox", hidden: true });
    this.list.setAttribute("aria-label", field.querySelector("label")?.textContent.trim() ?? "Found");
    this.none = make("p", { className: "finder-none", hidden: true });
    (this.input.closest(".box") ?? this.input).after(this.list, this.none);
    for (const [name, value] of Object.entries({ role: "combobox", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": this.list.id })) this.input.setAttribute(name, value);
    this.input.addEventListener("input", () => this.#typed());
    this.input.addEventListener("keydown", (event) => this.#key(event));
    this.input.addEventListener("blur", () => this.close());
    this.list.addEventListener("pointerdown", (event) => event.preventDefault());
    this.list.addEventListener("click", (event) => this.#take(this.#options.indexOf(event.target.closest("[role=option]"))));
  }

  #typed() {
    if (this.#written) return;
    if (this.input.value.trim()) this.find(TYPING_RESTS);
    else this.close();
  }

  async find(rest = 0) {
    this.#asking?.abort();
    const { signal } = (this.#asking = new AbortController());
    await new Promise((go) => setTimeout(go, rest));
    if (signal.aborted) return;
    const address = new URL(this.field.dataset.finder, location);
    address.searchParams.set("q", this.input.value);
    try {
      const response = await fetch(address, { headers: { "X-Partial": "1" }, signal });
      if (!response.ok) throw new Error(`status ${response.status}`);
      this.#show(new DOMParser().parseFromString(await response.text(), "text/html"));
    } catch {
      if (!signal.aborted) this.#nothing(GONE);
    }
  }

  #show(answer) {
    if (document.activeElement !== this.input) return;
    this.#options = [...answer.querySelectorAll("[data-value]")];
    if (!this.#options.length) return this.#nothing(this.field.hasAttribute("data-free") ? "" : `Nothing found for “${this.input.value.trim().slice(0, 40)}”.`);
    this.#options.forEach((option, at) => { option.id = `${this.list.id}-${at}`; option.role = "option"; option.ariaSelected = "false"; });
    this.list.replaceChildren(...this.#options);
    this.none.hidden = true;
    this.list.hidden = false;
    this.input.setAttribute("aria-expanded", "true");
    const below = innerHeight - this.input.getBoundingClientRect().bottom;
    this.list.classList.toggle("finder-above", below < Math.min(this.list.offsetHeight + 8, 260) && below < innerHeight / 2);
    const meant = this.#options.findIndex((option) => option.dataset.value === this.input.value);
    this.#mark(meant >= 0 || this.field.hasAttribute("data-free") ? meant : 0);
    this.#say(`${this.#options.length} found`);
  }

  #nothing(words) {
    this.close();
    this.none.textContent = words;
    this.none.hidden = !words;
    this.#say(words);
  }

  #say(words) {
    const spoken = document.getElementById("spoken");
    if (spoken) spoken.textContent = words;
  }

  #mark(at) {
    if (this.#options[this.#current]) this.#options[this.#current].ariaSelected = "false";
    this.#current = at;
    const option = this.#options[at];
    if (!option) return this.input.removeAttribute("aria-activedescendant");
    option.ariaSelected = "true";
    this.input.setAttribute("aria-activedescendant", option.id);
    option.scrollIntoView({ block: "nearest" });
  }

  #take(at) {
    const option = this.#options[at];
    if (!option) return;
    this.close();
    if (this.input.value === option.dataset.value) return;
    this.#written = true;
    this.input.value = option.dataset.value;
    for (const name of ["input", "change"]) this.input.dispatchEvent(new Event(name, { bubbles: true }));
    this.#written = false;
  }

  #key(event) {
    const many = this.#options.length;
    if (this.list.hidden) {
      if (event.key === "ArrowDown" || event.key === "ArrowUp") { event.preventDefault(); this.find(); }
      return;
    }
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: 6, PageUp: -6 }[event.key];
    if (step) {
      event.preventDefault();
      const to = this.#current + step;
      const wraps = Math.abs(step) === 1;
      this.#mark(wraps ? (to < 0 ? many - 1 : to % many) : Math.max(0, Math.min(many - 1, to)));
    } else if (event.key === "Enter") {
      // Enter in an open list chooses; it never sends the form.
      event.preventDefault();
      if (this.#current < 0) this.close(); else this.#take(this.#current);
    } else if (event.key === "Tab") {
      this.#take(this.#current);
    } else if (event.key === "Escape") {
      event.preventDefault();
      this.close();
    }
  }

  close() {
    this.#asking?.abort();
    this.#current = -1;
    this.list.hidden = true;
    this.none.hidden = true;
    this.input.setAttribute("aria-expanded", "false");
    this.input.removeAttribute("aria-activedescendant");
  }
}

const found = new WeakSet();
const attach = (root) => {
  for (const field of root.querySelectorAll("[data-finder]")) {
    if (found.has(field) || field.closest("template")) continue;
    found.add(field);
    new Finder(field);
  }
};

attach(document);
// Rows of fields that are added later find as well.
new MutationObserver((changes) => {
  if (changes.some((change) => [...change.addedNodes].some((node) => node.querySelector?.("[data-finder]") || node.matches?.("[data-finder]")))) attach(document);
}).observe(document.getElementById("main") ?? document.body, { childList: true, subtree: true });
