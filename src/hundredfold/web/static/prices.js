// A slider moved shows what would change at once: the page asks itself with the form's values, and keeps nothing.
const form = document.querySelector("#whatif");
let waiting = 0;
let asked = 0;

async function look() {
  const mine = (asked += 1);
  const answer = await fetch(`/prices?${new URLSearchParams(new FormData(form))}`);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (mine !== asked || !page.querySelector("#prices")) return;
  for (const part of ["#prices", "#keep", ".headline h1"]) {
    const [here, fresh] = [document.querySelector(part), page.querySelector(part)];
    if (here && fresh) here.replaceWith(fresh);
  }
}

form?.addEventListener("input", (event) => {
  const output = event.target.closest("label")?.querySelector("output");
  if (output) output.textContent = event.target.value;
  clearTimeout(waiting);
  waiting = setTimeout(look, 120);
});
