// [data-photo-drop]: an image that is dropped or pasted anywhere on its page goes into its file field as if it were chosen there,
// so that none that misses it takes the browser off the page. What is no image goes there too, and is refused in words.

const place = () => document.querySelector("[data-photo-drop]");
const imageIn = (data) => [...(data?.files ?? [])].find((file) => file.type.startsWith("image/"));

function take(file, into) {
  const field = into.querySelector("input[type=file]");
  const files = new DataTransfer();
  files.items.add(file);
  field.files = files.files;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

document.addEventListener("paste", (event) => {
  const into = place();
  const file = into && imageIn(event.clipboardData);
  if (!file) return;
  event.preventDefault();
  take(file, into);
});

for (const name of ["dragover", "drop"]) {
  document.addEventListener(name, (event) => {
    const into = place();
    if (!into || ![...event.dataTransfer.types].includes("Files")) return;
    event.preventDefault();
    const file = name === "drop" && (imageIn(event.dataTransfer) ?? event.dataTransfer.files[0]);
    if (file) take(file, into);
  });
}

// Whoever comes to the place of a live form that has no photo yet sees what a phone took meanwhile: the form asks again.

let looked = -Infinity;

for (const name of ["pointerover", "focusin"]) {
  document.addEventListener(name, ({ target, relatedTarget, timeStamp }) => {
    const at = target.closest?.("[data-photo-drop]");
    const field = at?.querySelector("[name='artwork.photo']");
    if (!field?.form.dataset.live || field.value || at.contains(relatedTarget) || timeStamp - looked < 500) return;
    looked = timeStamp;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  });
}

// [data-corners]: four corners on a photo that are moved by pointer or arrow keys; their number fields follow, and lead. One begins at the first.

const form = document.querySelector("[data-corners]");
const sheet = form?.querySelector("svg");
const corners = form ? [...sheet.querySelectorAll("[data-corner]")] : [];
const fieldsOf = (corner) => ["x", "y"].map((axis) => form.elements[`corner.${corner.dataset.corner}.${axis}`]);

function put(corner, x, y) {
  const { width, height } = sheet.viewBox.baseVal;
  const at = [Math.round(Math.min(Math.max(x, 0), width)), Math.round(Math.min(Math.max(y, 0), height))];
  fieldsOf(corner).forEach((field, axis) => { field.value = at[axis]; });
  follow();
}

function follow() {
  const points = corners.map((corner) => fieldsOf(corner).map((field) => Number(field.value) || 0));
  corners.forEach((corner, number) => {
    const [x, y] = points[number];
    corner.setAttribute("d", `M${x},${y}h0`);
    corner.setAttribute("aria-valuenow", x);
    corner.setAttribute("aria-valuetext", `${x} across, ${y} down`);
  });
  sheet.querySelector("polygon").setAttribute("points", points.join(" "));
}

form?.addEventListener("input", follow);
if (!document.querySelector("[autofocus], .error-summary")) corners[0]?.focus({ preventScroll: true });

const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

for (const corner of corners) {
  corner.addEventListener("keydown", (event) => {
    const step = STEPS[event.key];
    if (!step) return;
    event.preventDefault();
    const [x, y] = fieldsOf(corner).map((field) => Number(field.value));
    const by = event.shiftKey ? 10 : 1;
    put(corner, x + step[0] * by, y + step[1] * by);
  });
  corner.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    corner.focus({ preventScroll: true });
    corner.setPointerCapture(event.pointerId);
  });
  corner.addEventListener("pointermove", (event) => {
    if (!corner.hasPointerCapture(event.pointerId)) return;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(sheet.getScreenCTM().inverse());
    put(corner, at.x, at.y);
  });
}
