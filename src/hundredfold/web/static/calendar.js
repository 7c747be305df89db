// A day dragged onto another: the same form that stands below the calendar, filled in by the mouse.
const form = document.querySelector("#dragged");
let from = "";
let design = "";

document.addEventListener("dragstart", (event) => {
  from = event.target.closest?.("[data-day]")?.dataset.day || "";
  design = event.target.dataset?.design || "";
  if (from) event.dataTransfer.effectAllowed = "move";
});
for (const name of ["dragenter", "dragover"])
  document.addEventListener(name, (event) => {
    const day = event.target.closest?.("[data-day]");
    for (const one of document.querySelectorAll(".day.target")) if (one !== day) one.classList.remove("target");
    if (!from || !day) return;
    event.preventDefault();
    day.classList.toggle("target", day.dataset.day !== from);
  });
document.addEventListener("drop", (event) => {
  const day = event.target.closest?.("[data-day]");
  if (!from || !day || day.dataset.day === from || !form) return;
  event.preventDefault();
  form.elements.from.value = from;
  form.elements.design.value = design;
  form.elements.to.value = day.dataset.day;
  form.submit();
});
document.addEventListener("dragend", () => {
  from = "";
  for (const one of document.querySelectorAll(".day.target")) one.classList.remove("target");
});
