// A proof sheet: a number strikes a colour or brings it back, V shows every colour as drawn.
const boxes = [...document.querySelectorAll("[data-number]")];
const drawn = document.querySelector("#drawn");

const strike = (box) => box.closest(".proof").classList.toggle("struck", box.checked);
for (const box of boxes) box.addEventListener("change", () => strike(box));

drawn?.addEventListener("click", () => {
  const on = drawn.getAttribute("aria-pressed") !== "true";
  drawn.setAttribute("aria-pressed", on);
  for (const img of document.querySelectorAll("img.drawn")) img.hidden = !on;
  for (const img of document.querySelectorAll("img.mended")) img.hidden = on;
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target.closest("select,textarea,[type=text]")) return;
  const box = boxes.find((one) => one.dataset.number === event.key);
  if (!box) return;
  box.checked = !box.checked;
  strike(box);
});
