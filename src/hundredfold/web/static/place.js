// Art dragged on its print area: the server says where it comes to lie, and draws the picture of it.
const area = document.querySelector("#area");
const form = document.querySelector("#place");
const seen = document.querySelector("#seen");
const words = document.querySelector("#words");
const held = [...area.querySelectorAll(".held")];
const field = (name) => form.elements[name];
const query = () => new URLSearchParams({ scale: field("scale").value, right: field("right").value, down: field("down").value });

let asking = false;
let again = false;

async function look() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  const answer = await fetch(`${area.dataset.tried}?${query()}`);
  if (answer.ok) {
    const told = await answer.json();
    told.art.forEach(([x, y, width, height], n) => {
      for (const [name, value] of Object.entries({ x, y, width, height })) held[n]?.setAttribute(name, value);
    });
    words.textContent = told.words;
    const place = new URLSearchParams({ scale: field("scale").value / 100, right: field("right").value, down: field("down").value });
    seen.src = `${area.dataset.goods}&${place}`;
  }
  asking = false;
  if (again) {
    again = false;
    look();
  }
}

let from = null;
area.addEventListener("pointerdown", (event) => {
  if (!event.target.closest(".held")) return;
  event.preventDefault();
  area.setPointerCapture(event.pointerId);
  from = { x: event.clientX, y: event.clientY, right: +field("right").value, down: +field("down").value };
});
area.addEventListener("pointermove", (event) => {
  if (!from) return;
  const mm = 1 / area.getScreenCTM().a;
  field("right").value = (from.right + (event.clientX - from.x) * mm).toFixed(1);
  field("down").value = (from.down + (event.clientY - from.y) * mm).toFixed(1);
  look();
});
for (const end of ["pointerup", "pointercancel"]) area.addEventListener(end, () => (from = null));
form.addEventListener("input", look);
