// Files, folders and ZIPs dropped anywhere on a page that takes them.
import { send } from "./page.js";

const MOST_BYTES = 400 * 1024 * 1024; // sent at once; the server's own bound is higher

async function inside(entry, path, found) {
  if (entry.isFile) {
    const file = await new Promise((done, failed) => entry.file(done, failed));
    found.push([file, path + file.name]);
  } else if (entry.isDirectory) {
    const reader = entry.createReader();
    for (;;) {
      const some = await new Promise((done, failed) => reader.readEntries(done, failed));
      if (!some.length) break;
      for (const one of some) await inside(one, `${path}${entry.name}/`, found);
    }
  }
}

async function dropped(data) {
  const found = [];
  const entries = [...data.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  for (const entry of entries) await inside(entry, "", found);
  if (!entries.length) for (const file of data.files) found.push([file, file.name]);
  return found;
}

/** Send files in portions; every portion's sentences come back together in the last answer. */
async function bring(form, files) {
  let answer = null;
  while (files.length) {
    const body = new FormData();
    let bytes = 0;
    while (files.length && (!bytes || bytes + files[0][0].size < MOST_BYTES)) {
      const [file, name] = files.shift();
      body.append(form.dataset.drop, file, name);
      bytes += file.size;
    }
    for (const field of form.querySelectorAll("input[type=hidden]")) body.append(field.name, field.value);
    answer = await send(form.action, body);
  }
  return answer;
}

export function takeDrops() {
  const form = document.querySelector("form[data-drop]");
  if (!form) return;
  const line = form.querySelector("[data-drop-line]");
  const start = async (files) => {
    if (!files.length) return;
    line.textContent = `Taking in ${files.length} ${files.length === 1 ? "file" : "files"} …`;
    try {
      const answer = await bring(form, files);
      location.assign(answer.goto);
    } catch (error) {
      line.textContent = error.message;
    }
  };
  for (const name of ["dragenter", "dragover"])
    document.addEventListener(name, (event) => {
      event.preventDefault();
      document.body.classList.add("dropping");
    });
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("dropping");
  });
  document.addEventListener("drop", async (event) => {
    event.preventDefault();
    document.body.classList.remove("dropping");
    start(await dropped(event.dataTransfer));
  });
  const field = form.querySelector("input[type=file]");
  field?.addEventListener("change", () => {
    start([...field.files].map((file) => [file, file.webkitRelativePath || file.name]));
  });
}
