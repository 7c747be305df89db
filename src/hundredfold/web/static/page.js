// What the page does beside being read: keys, files dropped, work watched. Nothing here is needed to use it.
import { watchWork } from "./work.js";
import { takeDrops } from "./drop.js";

const typing = (target) => target.closest?.("input,textarea,select,[contenteditable]");

/** Press what carries this key on the page. No single key acts in a field or with Ctrl, Alt or Command. */
function press(event) {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || typing(event.target)) return;
  const key = event.key.length === 1 ? event.key.toUpperCase() : event.key;
  if (key === "Enter" && event.target.closest?.("a,button,summary")) return;
  const found = [...document.querySelectorAll("[data-key]")].find((one) => one.dataset.key === key && !one.disabled);
  if (found) {
    event.preventDefault();
    found.click();
  }
}

/** Send an action without leaving the page: {said, goto, ...}, or throws with the sentence to show. */
export async function send(address, fields) {
  const body = fields instanceof FormData ? fields : JSON.stringify(fields);
  const headers = { accept: "application/json", "x-seal": document.body.dataset.seal };
  if (!(fields instanceof FormData)) headers["content-type"] = "application/json";
  const answer = await fetch(address, { method: "POST", body, headers });
  const kind = answer.headers.get("content-type") || "";
  if (!kind.startsWith("application/json")) throw new Error(await answer.text());
  const told = await answer.json();
  if (!answer.ok) throw new Error(`${told.error.what}. ${told.error.try}`);
  return told;
}

/** Say that the program is gone, or back. */
export function gone(is) {
  const bar = document.querySelector("#gone");
  if (bar) bar.hidden = !is;
  document.body.classList.toggle("offline", is);
}

document.addEventListener("keydown", press);
document.querySelector("#again")?.addEventListener("click", () => location.reload());
// One press is one decision, however often the mouse is pressed.
document.addEventListener("submit", (event) => {
  if (event.target.dataset.sent) event.preventDefault();
  event.target.dataset.sent = "yes";
});
addEventListener("pageshow", () => document.querySelectorAll("form[data-sent]").forEach((f) => delete f.dataset.sent));
watchWork();
takeDrops();
