// The wall: what fits is asked for as you type, what lies further down as you come near it.
const form = document.querySelector("#find");
const wall = document.querySelector("#wall");
const counted = document.querySelector("#found");
let asked = 0;
let coming = false;

const part = async (address) => {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(String(answer.status));
  return new DOMParser().parseFromString(await answer.text(), "text/html").body;
};

async function find() {
  const mine = (asked += 1);
  const found = await part(`/designs/part?${new URLSearchParams(new FormData(form))}`);
  if (mine !== asked) return;
  counted.textContent = found.querySelector("#counted").textContent;
  wall.replaceChildren(...found.childNodes);
  watch();
}

/** What comes next is put behind what stands there; a group that goes on is one group. */
async function further(more) {
  if (coming) return;
  coming = true;
  const mine = asked;
  const found = await part(more.dataset.part).catch(() => null);
  coming = false;
  if (!found || mine !== asked || !more.isConnected) return;
  const last = wall.querySelector(".group:last-of-type");
  const first = found.querySelector(".group");
  if (last && first && last.dataset.niche === first.dataset.niche) {
    last.querySelector(".wall").append(...first.querySelector(".wall").childNodes);
    first.remove();
  }
  wall.querySelector("#counted")?.remove();
  more.replaceWith(...found.childNodes);
  watch();
}

const near = new IntersectionObserver(
  (seen) => seen.filter((one) => one.isIntersecting).forEach((one) => further(one.target)),
  { rootMargin: "1200px" },
);

function watch() {
  near.disconnect();
  const more = wall.querySelector("#more");
  if (more) near.observe(more);
}

form?.addEventListener("input", (event) => event.target.type === "search" && find());
form?.querySelector("select")?.addEventListener("change", () => form.requestSubmit());
if (wall) watch();
