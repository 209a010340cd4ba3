// The list: find by typing the beginnings of words; pinned and last used first.
import { recent, pinned } from "./store.js";
import { learn, t } from "./words.js";

const words = (text) => text.toLowerCase().normalize("NFD").replace(/\p{M}/gu, "").split(/[^\p{L}\p{N}]+/u).filter(Boolean);

export async function startIndex() {
  await learn();
  const input = document.getElementById("find");
  const found = document.getElementById("found");
  const items = [...document.querySelectorAll("#places li")];
  const spoken = new Map(items.map((li) => [li, words(li.dataset.find)]));
  const look = () => {
    const sought = words(input.value);
    let n = 0;
    for (const li of items) {
      li.hidden = !sought.every((w) => spoken.get(li).some((x) => x.startsWith(w)));
      if (!li.hidden) n++;
    }
    for (const s of document.querySelectorAll(".stand")) s.hidden = !s.querySelector("li:not([hidden])");
    found.textContent = sought.length ? t("Found: {}", n) : "";
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
