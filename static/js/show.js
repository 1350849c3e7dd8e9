// [data-show]: designs on the whole screen. The keys that links name in data-key press them; arrows go from picture to picture where
// several stand beside each other. Links within stay on the page, so that the whole screen is kept; without this module they are links.

document.addEventListener("keydown", (event) => {
  const show = document.querySelector("[data-show]");
  if (!show || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return;
  const link = show.querySelector(`[data-key="${event.key}"]`);
  if (link && !(event.key === "Escape" && document.fullscreenElement)) {
    event.preventDefault();
    return link.click();
  }
  const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
  const drawings = [...show.querySelectorAll("a.show-drawing")];
  if (!step || !drawings.length) return;
  event.preventDefault();
  const at = drawings.indexOf(document.activeElement);
  drawings[at < 0 && step < 0 ? drawings.length - 1 : (at + step + drawings.length) % drawings.length].focus();
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-whole]")) return document.documentElement.requestFullscreen();
  const link = event.target.closest("[data-show] a[href*='/show']");
  if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
  event.preventDefault();
  follow(link.href);
});

async function follow(href) {
  try {
    const answer = await fetch(href);
    const next = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-show]");
    if (!answer.ok || !next) throw new Error(`status ${answer.status}`);
    history.replaceState(null, "", href);
    document.querySelector("[data-show]").replaceWith(next);
    offerWhole();
    next.querySelector("[data-key=ArrowRight], a.show-drawing")?.focus();
  } catch {
    location.assign(href);
  }
}

function offerWhole() {
  const button = document.querySelector("[data-whole]");
  if (button) button.hidden = !document.fullscreenEnabled || Boolean(document.fullscreenElement);
}
document.addEventListener("fullscreenchange", offerWhole);
offerWhole();
