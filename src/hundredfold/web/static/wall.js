// Search as you type, on what the page holds already; without this the form asks the server for the same.
const field = document.querySelector("#find input[type=search]");
const groups = [...document.querySelectorAll("#wall .group")].map((group) => ({
  group,
  count: group.querySelector(".niche p"),
  items: [...group.querySelectorAll("[data-words]")].map((node) => ({ node, words: node.dataset.words })),
}));

function find() {
  const wanted = field.value.toLowerCase().split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const { group, count, items } of groups) {
    let here = 0;
    for (const { node, words } of items) {
      const fits = wanted.every((word) => words.includes(word));
      if (node.hidden === fits) node.hidden = !fits;
      here += fits;
    }
    group.hidden = !here;
    if (count) count.textContent = here;
    shown += here;
  }
  document.querySelector("#found").textContent = `${shown} shown`;
}

field?.addEventListener("input", find);
document.querySelector("#find select")?.addEventListener("change", (event) => event.target.form.requestSubmit());
