// A word list as a sheet: a row is set anew as it is typed, rows pasted from a spreadsheet fill the cells.
const form = document.querySelector("#words");
const large = document.querySelector("#large");
const which = document.querySelector("#which");
const LOOK = 100; // the weight of a look among findings
const waiting = new Map();

const rows = () => [...form.querySelectorAll("tr[data-row]")];
const column = (cell) => +cell.name.split(".")[1];
const cells = (row) => [...row.querySelectorAll("input")].sort((a, b) => column(a) - column(b));
const address = (row, ending, width) => {
  const query = new URLSearchParams(cells(row).map((cell, n) => [`c${n}`, cell.value]));
  if (width) query.set("w", width);
  return `/layouts/${form.dataset.list}/${row.dataset.row}.${ending}?${query}`;
};

function inHand(row) {
  if (!cells(row).some((cell) => cell.value)) return;
  large.hidden = false;
  large.src = address(row, "webp", 500);
  which.textContent = `Row ${row.dataset.row - 1}, as it prints`;
}

/** A row that looks wrong goes up, below those that look worse, unless somebody is typing in it. */
function rise(row, bad) {
  delete row.dataset.unknown;
  row.dataset.bad = bad;
  if (bad < LOOK || form.dataset.own || row.contains(document.activeElement)) return;
  const below = rows().find((one) => one !== row && +(one.dataset.bad || 0) < bad);
  below?.before(row);
}

async function set(row) {
  const asked = address(row, "json");
  row.dataset.asked = asked;
  const answer = await fetch(asked);
  if (!answer.ok || row.dataset.asked !== asked) return;
  const told = await answer.json();
  rise(row, told.bad);
  const place = row.querySelector(".found");
  place.textContent = told.found.filter((one) => one.severity !== "note").slice(0, 2)
    .map((one) => `${one.severity === "stop" ? "Stop" : "Look"}: ${one.what}. ${one.fix}.`).join(" ");
  const holder = row.querySelector(".pic");
  if (told.set) {
    const img = holder.querySelector("img") || document.createElement("img");
    img.alt = `Row ${row.dataset.row - 1} as it prints`;
    img.src = address(row, "webp", 160);
    if (!img.isConnected) holder.replaceChildren(img);
    if (row.contains(document.activeElement)) inHand(row);
  }
}

/** How many rows want a look, once all that are here are set. */
function tell() {
  const look = rows().filter((row) => +(row.dataset.bad || 0) >= LOOK).length;
  const all = +form?.dataset.rows || 0;
  if (!all || form.dataset.own) return;
  const shown = rows().filter((row) => row.dataset.bad).length;
  const of = all > shown ? `, of the first ${shown}` : "";
  const said = look ? `${look} ${look === 1 ? "wants" : "want"} a look${of}, shown first` : `all set well${of}`;
  document.querySelector("h1").textContent = `${all} ${all === 1 ? "row" : "rows"}; ${said}.`;
}

/** Rows that were never set are, one after the other, while the page is looked at. */
async function setUnknown() {
  for (;;) {
    const row = form?.querySelector("tr[data-unknown]");
    if (!row) return tell();
    delete row.dataset.unknown;
    await set(row);
  }
}

function soon(row) {
  clearTimeout(waiting.get(row));
  waiting.set(row, setTimeout(() => set(row), 250));
}

/** One more empty row at the foot, so that there is always one to type into. */
function more() {
  const last = rows().at(-1);
  const fresh = last.cloneNode(true);
  const number = +last.dataset.row + 1;
  fresh.dataset.row = number;
  fresh.querySelector(".no").textContent = number - 1;
  fresh.querySelector(".found").textContent = "";
  const holder = document.createElement("div");
  holder.className = "blank0";
  fresh.querySelector(".pic").replaceChildren(holder);
  for (const cell of cells(fresh)) {
    cell.name = cell.name.replace(/^r\d+/, `r${number}`);
    cell.ariaLabel = cell.ariaLabel.replace(/\d+$/, number);
    cell.value = "";
  }
  last.after(fresh);
  return fresh;
}

form?.addEventListener("input", (event) => {
  const row = event.target.closest("tr");
  if (row === rows().at(-1) && event.target.value) more();
  soon(row);
});
form?.addEventListener("focusin", (event) => {
  const row = event.target.closest?.("tr[data-row]");
  if (row) inHand(row);
});
form?.addEventListener("paste", (event) => {
  const text = event.clipboardData.getData("text/plain").replace(/\r?\n$/, "");
  if (!event.target.matches("input") || !/[\t\n]/.test(text)) return;
  event.preventDefault();
  let row = event.target.closest("tr");
  const first = cells(row).indexOf(event.target);
  for (const line of text.split(/\r?\n/)) {
    line.split("\t").forEach((cell, n) => {
      const field = cells(row)[first + n];
      if (field) field.value = cell.trim();
    });
    soon(row);
    row = rows()[rows().indexOf(row) + 1] || more();
  }
});
// Enter goes a row down, as in a spreadsheet; only the buttons send the list.
form?.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches("tr input")) return;
  event.preventDefault();
  const row = event.target.closest("tr");
  const below = rows()[rows().indexOf(row) + 1];
  const cell = below && cells(below)[cells(row).indexOf(event.target)];
  if (cell?.closest("details")) cell.closest("details").open = true;
  cell?.focus();
});
setUnknown();
