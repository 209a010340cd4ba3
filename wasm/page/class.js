// Class: one calculation at projector size. The class guesses first; the
// answer and the working are unveiled when asked for; sliders move the inputs;
// a worksheet of the same calculation comes with its answers on a second page.
import { ask } from "./engine.js";
import { h, drawn } from "./dom.js";
import { fit, judged, quantity, steps } from "./sheet.js";
import { t, n, lang } from "./words.js";

export function holdClass(id, form, bench) {
  const result = document.getElementById("result");
  const lines = document.getElementById("working-lines");
  const box = h("section", { class: "lesson", "aria-label": t("Class") });
  document.querySelector(".answer").before(box);
  document.getElementById("working").open = true;

  // Guesses, then the answer among them.
  const guesses = h("input", { id: "guesses", type: "text", autocomplete: "off", "aria-describedby": "guesses-hint" });
  const show = h("button", { type: "button" }, t("Show the answer"));
  const next = h("button", { type: "button" }, t("Next line of working"));
  const picture = h("div", { class: "guesses", hidden: true });
  box.append(
    h("p", {}, h("label", { for: "guesses" }, t("Guess first")), " ", guesses),
    h("p", { class: "hint", id: "guesses-hint" }, t("The guesses of the class, with spaces between them, like 10.2 11 12.5")),
    h("p", { class: "steer" }, show, " ", next), picture);

  let open = false; // is the answer shown?
  let shown = 0; // lines of working shown
  const veil = () => {
    result.classList.toggle("veiled", !open);
    [...lines.children].forEach((l, i) => l.classList.toggle("veiled", i >= shown));
    show.textContent = open ? t("Hide the answer") : t("Show the answer");
    next.disabled = shown >= lines.children.length;
    const v = bench.sheet().values?.[0];
    picture.hidden = !open || !v || v.number === null;
    const list = picture.hidden ? [] : read(guesses.value);
    if (!picture.hidden) picture.replaceChildren(numberLine(v, list));
    for (const svg of document.querySelectorAll("#more svg[data-frame]")) along(svg, v, list);
  };
  show.addEventListener("click", () => { open = !open; veil(); });
  next.addEventListener("click", () => { shown++; veil(); lines.children[shown - 1]?.scrollIntoView({ block: "nearest" }); });
  guesses.addEventListener("input", veil);
  bench.onShow(veil);

  // A slider under each number, around what stands in the field.
  for (const e of form.querySelectorAll("input[data-base]")) {
    if (e.closest("details")) continue;
    const s = h("input", { type: "range", step: "any", "aria-label": t("Slide: {}", document.querySelector(`label[for="${e.id}"]`).firstChild.textContent.trim()) });
    const set = () => {
      const v = Number(e.value.replace(",", "."));
      if (!Number.isFinite(v) || e.value.trim() === "") return;
      const span = Math.max(Math.abs(v), 1);
      if (!s.dataset.set || v < Number(s.min) || v > Number(s.max)) {
        s.min = String(v >= 0 ? Math.max(0, v - span) : v - span);
        s.max = String(v + span);
        s.dataset.set = "1";
      }
      s.value = String(v);
    };
    s.addEventListener("input", () => {
      const places = (/[.,](\d*)/.exec(e.value)?.[1] ?? "").length;
      e.value = n(Number(s.value).toFixed(places));
      e.dispatchEvent(new Event("input", { bubbles: true }));
    });
    e.addEventListener("input", set);
    e.closest(".ask").append(s);
    bench.onShow(set);
  }

  // The worksheet.
  const number = h("input", { id: "sheet-number", type: "text", inputmode: "numeric", size: "4", value: "1" });
  const make = h("button", { type: "button" }, t("Make a worksheet"));
  const paper = h("section", { class: "worksheet", "aria-label": t("Worksheet"), hidden: true });
  box.append(h("p", {}, h("label", { for: "sheet-number" }, t("Worksheet number")), " ", number, " ", make));
  document.querySelector("article").after(paper);
  make.addEventListener("click", async () => {
    const tasks = await worksheet(id, form, Number(number.value) || 1);
    const title = document.querySelector("h1").textContent + ", " + t("worksheet {}", number.value || "1");
    paper.replaceChildren(
      h("h2", {}, title), h("p", {}, document.querySelector(".question").textContent),
      h("p", { class: "hint" }, tasks.some((k) => k.given.includes("±")) ? t("The ± of a reading is what its meter may be off by, and half of the last digit is counted beside it; where no meter is known, it is half of the last digit alone. The root of the sum of their squares, divided by √3, is the standard uncertainty; the ± of an answer is two of those.") : ""),
      h("ol", {}, ...tasks.map((k) => h("li", {}, h("p", {}, k.given), h("p", { class: "blank" }, k.wanted + ":")))),
      h("h2", { class: "answers" }, title + ": " + t("answers")),
      h("ol", {}, ...tasks.map((k) => { const li = h("li", {}, h("p", {}, k.answer)); for (const m of k.working) { const p = h("p", { class: "line" }); p.append(steps(m)); li.append(p); } return li; })));
    paper.hidden = false;
    fit(paper);
    document.documentElement.classList.add("has-worksheet");
    paper.scrollIntoView();
  });
  veil();
}

const read = (text) => text.split(/[\s;]+/).filter(Boolean).map((w) => Number(w.replace(",", "."))).filter((v) => Number.isFinite(v)).slice(0, 60);

// numberLine draws the guesses as rings and the answer as a pole with its ±.
function numberLine(v, guesses) {
  const all = [...guesses, v.number - 2 * v.u, v.number + 2 * v.u];
  let lo = Math.min(...all), hi = Math.max(...all);
  if (!(hi > lo)) { lo -= 1; hi += 1; }
  const x = (q) => (20 + 320 * (q - lo) / (hi - lo)).toFixed(1);
  const best = guesses.reduce((a, g) => Math.abs(g - v.number) < Math.abs(a - v.number) ? g : a, Infinity);
  const text = t("{} guesses; the nearest is {}, the answer {}.", guesses.length, Number.isFinite(best) ? n(best) : "–", v.text + (v.unit ? " " + v.unit : ""));
  const dots = guesses.map((g, i) => `<circle class="f-point f-hollow" cx="${x(g)}" cy="${34 - 9 * (i % 3)}" r="5" fill="none" stroke="currentColor" stroke-width="2"/>`).join("");
  const f = h("figure", {});
  f.append(drawn(`<svg viewBox="0 0 360 64" role="img" aria-label="${t("Guesses and answer")}"><rect x="${x(v.number - 2 * v.u)}" y="8" width="${Math.max(1, x(v.number + 2 * v.u) - x(v.number - 2 * v.u))}" height="34" fill="currentColor" fill-opacity=".2"/><path d="M${x(v.number)} 4v40" stroke="currentColor" stroke-width="3"/><path d="M20 44h320" stroke="currentColor"/>${dots}<text x="${x(v.number)}" y="60" text-anchor="middle" font-size="14" fill="currentColor">${v.text}</text></svg>`), h("figcaption", {}, text));
  return f;
}

// along sets the guesses as rings beside the axis of a picture that is the
// answer's: it has its unit, and where both have, more words of its name.
function along(svg, v, guesses) {
  svg.querySelector(".guessed")?.remove();
  if (!v?.unit || !guesses.length) return;
  const [left, top, right, bottom] = svg.dataset.frame.split(/[ ,]+/).map(Number);
  const words = (text) => text.toLocaleLowerCase(lang).split(/[\s,]+/);
  const label = { x: [], y: [] };
  for (const l of svg.querySelectorAll(".f-label")) label[Number(l.getAttribute("y")) < top ? "y" : "x"].push(...words(l.textContent));
  const name = words(v.label).filter((w) => w.length > 2);
  const alike = (a) => label[a].includes(v.unit.toLocaleLowerCase(lang)) ? 1 + label[a].filter((w) => name.includes(w)).length : 0;
  if (alike("x") === alike("y")) return;
  const upright = alike("y") > alike("x");
  const [lo, hi, kind] = svg.dataset[upright ? "y" : "x"].split(/[ ,]+/);
  const at = (g) => kind === "log" ? Math.log(g / lo) / Math.log(hi / lo) : (g - lo) / (hi - lo);
  const rings = guesses.map(at).filter((q) => q >= 0 && q <= 1)
    .map((q) => upright ? [right - 5, bottom - q * (bottom - top)] : [left + q * (right - left), bottom - 5])
    .map(([x, y]) => `<circle cx="${x.toFixed(1)}" cy="${y.toFixed(1)}" r="4" fill="none" stroke="currentColor" stroke-width="1.5"/>`);
  svg.append(drawn(`<svg><g class="guessed">${rings.join("")}</g></svg>`).querySelector("g"));
}

// worksheet makes tasks by changing some of the numbers that stand in the
// form, or in its example; the same number makes the same sheet. What the form
// counts exactly, where it measures too, moves only when that makes too few
// tasks; shares in percent that it does not measure, what may stay empty, and the
// oxygen of air stay as they are.
async function worksheet(id, form, seed) {
  let s = seed >>> 0 || 1;
  const random = () => { s = (Math.imul(s, 1664525) + 1013904223) >>> 0; return s / 4294967296; };
  const all = [...form.querySelectorAll("input, select, textarea")].filter((e) => e.name);
  const label = (e) => document.querySelector(`label[for="${e.id}"]`);
  const meter = (e) => all.find((m) => m.name === e.name + ".pm");
  const sound = (sheet) => !sheet.faults && !sheet.problem && sheet.values;
  const example = JSON.parse(form.dataset.example);
  const from = (value) => Object.fromEntries(all.map((e) => [e.name, value(e)]).filter(([, v]) => v));
  let base = from((e) => e.value), own = await ask("worked", id, base);
  if (!sound(own)) own = await ask("worked", id, base = from((e) => example[e.name] ?? (e.name.endsWith(".pm") ? e.defaultValue : "")));

  const air = (e) => e.dataset.base === "%" && /^20[.,]9(46)?$/.test(example[e.name]);
  const free = all.filter((e) => base[e.name] && !e.closest("details"));
  const lists = free.filter((e) => e.localName === "textarea"), numbers = free.filter((e) => "base" in e.dataset && !air(e) && !label(e).querySelector(".may"));
  let fields = numbers.filter(meter);
  if (!fields.length && !lists.length) { // counts and settings, where there is nothing else
    fields = numbers.filter((e) => e.dataset.base !== "%");
    if (!fields.length) fields = numbers;
  }
  const wider = [...fields, ...numbers.filter((e) => !fields.includes(e) && e.dataset.base !== "%")];
  const places = (text) => (/[.,](\d*)/.exec(text)?.[1] ?? "").length;
  // What the numbers of a list's rows are.
  const heads = (e) => {
    if (!e.dataset.columns) return "";
    const units = e.dataset.units.split("|");
    return " (" + e.dataset.columns.split("|").map((c, i) => c + (units[i] ? ", " + units[i] : "")).join(" | ") + "):";
  };
  // Each number of a list moves by a few of its last digits; the first of several in a row says when or which.
  const shaken = (e, far) => base[e.name].replace(/\S+/g, (word, at, text) => e.dataset.columns.includes("|") && /(^|\n)\s*$/.test(text.slice(0, at)) && /^[^\n]*\S/.test(text.slice(at + word.length)) ? word
    : word.replace(/^(\d+)([.,]?)(\d*)(;?)$/, (same, whole, sign, part, end) => {
      const value = Number(whole + part), by = Math.round((2 * random() - 1) * (part ? far : 1));
      if (!value || value + by < 0) return same;
      const digits = String(value + by).padStart(part.length + 1, "0"), cut = digits.length - part.length;
      return digits.slice(0, cut) + sign + digits.slice(cut) + end;
    }));

  const tasks = [], most = 60;
  for (let tries = 0; tasks.length < 6 && tries <= most; tries++) {
    const state = { ...base }; // as it is, when nothing else is left to try
    const span = 0.2 * (1 - tries / most); // what was refused was too far off
    const moved = tries < most / 2 ? fields : wider; // too few tasks: what is counted moves too
    for (const e of tries < most ? [...moved, ...lists] : []) {
      if (random() < 0.5 && tries > 0) continue;
      const text = base[e.name], v = Number(text.replace(",", ".")) * (1 + span * (2 * random() - 1));
      if (lists.includes(e)) state[e.name] = shaken(e, 3 + tries / 10);
      else if (Number.isFinite(v)) state[e.name] = v.toFixed(places(text));
    }
    const sheet = await ask("worked", id, state);
    if (!sound(sheet) || (sheet.notes?.length ?? 0) > (own.notes?.length ?? 0)) continue; // a note is a warning
    const v = sheet.values[0];
    if (v.number < 0 && !(own.values[0].number < 0)) continue;
    const plusMinus = (e) => meter(e) && (state[e.name + ".pm"] || state[e.name] !== "0") ? " ± " + n(state[e.name + ".pm"] ?? (0.5 / 10 ** places(state[e.name])).toFixed(places(state[e.name]) + 1)) : "";
    const given = [...form.querySelectorAll("[data-field]")].map((a) => a.querySelector("input, select, textarea")).filter((e) => e && state[e.name] && !e.closest("details"))
      .map((e) => label(e).firstChild.textContent.trim() + heads(e) + " " + (e.localName === "select" ? e.querySelector(`option[value="${state[e.name]}"]`)?.textContent : e.type === "datetime-local" ? state[e.name].replace("T", " ") : n(state[e.name].trim().replace(/\s*\n\s*/g, " / ")) + plusMinus(e)) + (e.dataset.base ? " " + (state[e.name + ".unit"] ?? e.dataset.base) : "")).join("; ") + ".";
    const answer = [v.label + ": " + quantity(v), judged(sheet)].filter(Boolean).join("; ");
    if (tasks.some((k) => k.given === given || k.answer === answer)) continue;
    tasks.push({ given, answer, wanted: v.label + (v.unit ? ", " + v.unit : ""), working: (sheet.working ?? []).map((l) => l.mathml) });
  }
  return tasks;
}
