// input[type=image][data-pick="NAME"]: the colour under the pointer is shown in the field NAME, and taken by a press: the mean
// of a spot, as the server takes it without this module. Who touches the field of a colour of one's own looks at that colour.

const fieldOf = (image) => image.form.elements[image.dataset.pick];

document.addEventListener("input", ({ target }) => {
  if (target.matches("[type=color][name='match.own']")) target.form.querySelector("[name=match][value=own]").checked = true;
});

// What is shown is priced, so that opening the block asks again.
document.addEventListener("toggle", ({ target }) => {
  const field = target.id === "match" && target.querySelector("[name='match.open']");
  const open = target.open ? "1" : "";
  if (!field || field.value === open) return;
  field.value = open;
  if (open) field.dispatchEvent(new Event("input", { bubbles: true }));
}, true);

document.addEventListener("pointermove", ({ target, offsetX, offsetY }) => {
  if (!target.matches?.("[data-pick]")) return;
  const field = fieldOf(target);
  target.dataset.before ??= field.value;
  field.value = colourAt(target, offsetX, offsetY) ?? field.value;
});

document.addEventListener("pointerout", ({ target }) => {
  if (target.dataset?.before) fieldOf(target).value = target.dataset.before;
  delete target.dataset?.before;
});

document.addEventListener("click", (event) => {
  const image = event.target.closest("[data-pick]");
  const colour = image?.form.dataset.live && !image.form.hasAttribute("data-live-failed") && colourAt(image, event.offsetX, event.offsetY);
  if (!colour) return;
  event.preventDefault();
  delete image.dataset.before;
  fieldOf(image).value = colour;
  fieldOf(image).dispatchEvent(new Event("input", { bubbles: true }));
});

const pictures = new WeakMap();

function colourAt(image, x, y) {
  const canvas = drawn(image);
  if (!canvas) return null;
  const { width, height } = canvas;
  const reach = Math.max(1, Math.floor(Math.min(width, height) / 80));
  const [left, right] = span(x / image.width, width, reach), [top, bottom] = span(y / image.height, height, reach);
  const { data } = canvas.getContext("2d").getImageData(left, top, right - left, bottom - top);
  const means = [0, 1, 2].map((part) => {
    let sum = 0;
    for (let at = part; at < data.length; at += 4) sum += data[at];
    return Math.round(sum / (data.length / 4));
  });
  return `#${means.map((mean) => mean.toString(16).padStart(2, "0")).join("")}`;
}

function span(share, side, reach) {
  const at = Math.min(Math.max(Math.round(share * side), 0), side - 1);
  return [Math.max(at - reach, 0), Math.min(at + reach + 1, side)];
}

// An image button tells no natural size, and is drawn by a picture of the same address.
function drawn(button) {
  const known = pictures.get(button) ?? { image: Object.assign(new Image(), { src: button.src }) };
  pictures.set(button, known);
  const { image, canvas } = known;
  if (canvas || !image.complete || !image.naturalWidth) return canvas;
  known.canvas = Object.assign(document.createElement("canvas"), { width: image.naturalWidth, height: image.naturalHeight });
  known.canvas.getContext("2d", { willReadFrequently: true }).drawImage(image, 0, 0);
  return known.canvas;
}
