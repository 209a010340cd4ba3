// What stands beside the question: pin, link, QR code, class, screen.
import { h } from "./dom.js";
import { pin, pinned } from "./store.js";
import { t } from "./words.js";

export function offerTools(id, link) {
  const place = document.getElementById("tools");
  const toggle = (name, on, act) => {
    const b = h("button", { type: "button", "aria-pressed": String(on) }, name);
    b.addEventListener("click", () => act(b));
    return b;
  };
  const press = (b, on) => b.setAttribute("aria-pressed", String(on));

  place.append(toggle(t("Pin"), pinned().includes(id), (b) => {
    const on = !pinned().includes(id);
    if (pin(id, on)) press(b, on);
  }));

  const box = h("div", { class: "share", hidden: true });
  const share = h("button", { type: "button", "aria-expanded": "false" }, t("Link and QR code"));
  share.addEventListener("click", async () => {
    box.hidden = !box.hidden;
    share.setAttribute("aria-expanded", String(!box.hidden));
    if (box.hidden) return;
    const address = link({});
    const field = h("input", { type: "text", readonly: true, value: address, "aria-label": t("Address of this calculation with its input") });
    const said = h("output", {});
    const copy = h("button", { type: "button" }, t("Copy"));
    copy.addEventListener("click", async () => {
      try {
        await navigator.clipboard.writeText(address);
        said.textContent = t("Copied.");
      } catch {
        field.select();
        said.textContent = t("Select and copy it.");
      }
    });
    box.replaceChildren(h("p", {}, field, " ", copy, " ", said));
    try {
      const { generate } = await import("./vendor/lean-qr.js");
      box.append(picture(generate(address), t("QR code of the address")));
    } catch {
      box.append(h("p", {}, t("The address is too long for a QR code.")));
    }
    field.focus();
  });
  place.append(share);

  // A class takes one calculation, not a whole lot.
  if (!document.querySelector(".calc.lot")) place.append(toggle(t("Class"), document.documentElement.classList.contains("class"), () => {
    const on = document.documentElement.classList.contains("class");
    location.href = on ? link({}) : link({ class: "1" });
  }));

  if ("wakeLock" in navigator) {
    let lock = null;
    const b = toggle(t("Keep the screen on"), false, async () => {
      if (lock) { await lock.release(); lock = null; press(b, false); return; }
      try {
        lock = await navigator.wakeLock.request("screen");
        press(b, true);
        lock.addEventListener("release", () => press(b, false));
      } catch {
        b.textContent = t("The screen cannot be kept on here");
      }
    });
    document.addEventListener("visibilitychange", async () => {
      if (lock && document.visibilityState === "visible") {
        try { lock = await navigator.wakeLock.request("screen"); press(b, true); } catch { lock = null; }
      }
    });
    place.append(b);
  }
  place.append(box);
}

// picture draws the modules of a code, with its quiet zone, as one path.
function picture(code, name) {
  const quiet = 4, size = code.size + 2 * quiet;
  let path = "";
  for (let y = 0; y < code.size; y++) {
    for (let x = 0; x < code.size; x++) if (code.get(x, y)) path += `M${x + quiet} ${y + quiet}h1v1h-1z`;
  }
  const ns = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(ns, "svg");
  svg.setAttribute("viewBox", `0 0 ${size} ${size}`);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", name);
  svg.classList.add("code");
  const p = document.createElementNS(ns, "path");
  p.setAttribute("d", path);
  svg.append(p);
  return svg;
}
