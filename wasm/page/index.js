// The list: find by typing; pinned and last used first.
import { recent, pinned } from "./store.js";
import { learn, t } from "./words.js";

export async function startIndex() {
  await learn();
  const input = document.getElementById("find");
  const found = document.getElementById("found");
  const items = [...document.querySelectorAll("#places li")];
  const look = () => {
    const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
    let n = 0;
    for (const li of items) {
      li.hidden = !words.every((w) => li.dataset.find.includes(w));
      if (!li.hidden) n++;
    }
    for (const s of document.querySelectorAll(".stand")) s.hidden = !s.querySelector("li:not([hidden])");
    found.textContent = words.length ? t("Found: {}", n) : "";
  };
  input.addEventListener("input", look);
  input.form.addEventListener("submit", (event) => {
    event.preventDefault();
    document.querySelector("#places li:not([hidden]) a")?.focus();
  });
  const first = [...new Set([...pinned(), ...recent()])];
  const last = first.map((id) => items.find((li) => li.dataset.id === id)).filter(Boolean);
  if (last.length) {
    const box = document.getElementById("recent");
    box.querySelector("ul").replaceChildren(...last.map((li) => li.cloneNode(true)));
    box.hidden = false;
  }
  document.documentElement.dataset.ready = "1";
}
