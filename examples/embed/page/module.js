// The module under a form of one's own: one function per calculator.
import { load } from "./evenlot/evenlot.js";

const e = await load();
const form = document.getElementById("form");

async function tell() {
  const typed = Object.fromEntries(new FormData(form));
  const r = await e.bagHeadspace({ ...typed, bulk: "0.37", rho: "0.80", pore: 34 });
  document.getElementById("answer").textContent = r.ok
    ? Object.values(r.values).map((v) => `${v.label}: ${v.text}${v.plusMinus ? " ± " + v.plusMinus : ""} ${v.unit ?? ""}`).join("; ")
    : [...r.faults.map((f) => f.text), r.problem].filter(Boolean).join(" ");
}

form.addEventListener("input", tell);
form.addEventListener("submit", (event) => event.preventDefault());
await tell();
