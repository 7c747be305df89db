// Running work, looked at every second while it goes on; the page is loaded anew when it has ended.
import { gone } from "./page.js";

const part = (sheet, name) => sheet.querySelector(`[data-of="${name}"]`);

function show(sheet, work) {
  sheet.hidden = !work.going;
  part(sheet, "sentence").textContent = work.sentence;
  part(sheet, "words").textContent = work.words;
  const bar = part(sheet, "bar");
  bar.setAttribute("aria-label", work.sentence);
  if (work.of_all) {
    bar.max = work.of_all;
    bar.value = work.done;
  } else bar.removeAttribute("value");
}

export function watchWork() {
  const sheet = document.querySelector("[data-work]");
  if (!sheet || sheet.dataset.work !== "going") return;
  const look = async () => {
    try {
      const answer = await fetch("/work.json");
      const work = await answer.json();
      gone(false);
      if (!work.going) return location.reload();
      show(sheet, work);
    } catch {
      gone(true);
    }
    setTimeout(look, 1000);
  };
  setTimeout(look, 700);
}
