// [data-show]: designs on the whole screen. The keys that links name in data-key press them; where several stand beside each other the arrows
// show the first alone, or the one next to that which was looked at. Links within stay on the page, so that the whole screen is kept; without
// this module they are links.

document.addEventListener("keydown", (event) => {
  const show = document.querySelector("[data-show]");
  if (!show || event.ctrlKey || event.metaKey || event.altKey || event.shiftKey) return;
  if (event.key === "Escape" && document.fullscreenElement) return;
  const link = show.querySelector(`[data-key="${event.key}"]`) ?? beside(show, { ArrowLeft: -1, ArrowRight: 1 }[event.key]);
  if (!link) return;
  event.preventDefault();
  link.click();
});

function beside(show, step) {
  const drawings = [...show.querySelectorAll("a.show-drawing")];
  const at = drawings.indexOf(document.activeElement);
  return step && drawings.at(at < 0 ? Math.min(step, 0) : (at + step) % drawings.length);
}

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
    const left = next.querySelector(`a.show-drawing[href$="${location.search}"]`);
    history.replaceState(null, "", href);
    document.querySelector("[data-show]").replaceWith(next);
    offerWhole();
    (left ?? next.querySelector("[data-key=ArrowRight]"))?.focus();
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
