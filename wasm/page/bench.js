// One calculator: its form, its state in the address, its answer.
import { ask, begin, engine } from "./engine.js";
import { offerData } from "./data.js";
import { readable } from "./pointer.js";
import { answer, behind, fit, quantity, spoken, upper, working, worst } from "./sheet.js";
import { h, shape } from "./dom.js";
import { remember, recall, used, meters, keepMeters, keepLate, late } from "./store.js";
import { offerTools } from "./tools.js";
import { t, n, learn, lang, comma } from "./words.js";

const pause = 600; // ms without a key before the answer is spoken
const cheap = 8; // ms for figures and working that need not wait for a pause
const typing = 260, typed = 600; // ms without a key that are a pause: the least and, where figures cost much, the most
const patience = 300; // ms of a slider's moving, after which its figures follow all the same
const rounds = 60, idleness = 1000; // how often, and for how many ms, the example runs before the first key

const rest = (ms) => new Promise((done) => setTimeout(done, ms));

// painted resolves when what stands on the page has been seen, or the page is hidden.
const painted = () => new Promise((done) => {
  requestAnimationFrame(() => setTimeout(done));
  setTimeout(done, 100);
});

export async function startBench() {
  const article = document.querySelector("[data-calc]");
  const id = article.dataset.calc;
  const where = { root: new URL(document.documentElement.dataset.root, location.href).href, bundle: article.dataset.bundle, words: learn(article.dataset.bundle), comma };
  begin(where);
  engine().catch(() => {}); // on its way; who asks first is told when it fails
  where.words = await where.words;
  const form = document.getElementById("form");
  const wait = document.getElementById("wait");
  const result = document.getElementById("result");
  const more = document.getElementById("more");
  readable(more);
  const say = document.getElementById("spoken");
  const summary = document.getElementById("summary");
  const fields = [...form.elements].filter((e) => e.name);
  const submit = async (event) => {
    event.preventDefault();
    keep();
    used(id);
    await compute(true);
  };
  form.addEventListener("submit", submit);
  // A browser that offers to fill forms in reads the whole form of a field at
  // each key, which on a long one takes longer than the answer. So each group is
  // a form of its own, whose button nobody sees but the Enter key; within it a
  // phone's keyboard still leads from field to field.
  document.body.append(h("div", { class: "visually-hidden", "aria-hidden": "true" }, ...[...form.querySelectorAll("fieldset")].map((group, i) => {
    const own = h("form", { id: "own-" + i, autocomplete: "off" }, h("button", { tabindex: "-1" }));
    own.addEventListener("submit", submit);
    for (const e of group.querySelectorAll("input, select, textarea")) e.setAttribute("form", own.id);
    return own;
  })));
  const label = (name) => document.querySelector(`label[for="${byName(name)?.id}"]`)?.firstChild.textContent.trim() ?? name;
  const byName = (name) => fields.find((e) => e.name === name);

  const defaults = {};
  for (const e of fields) defaults[e.name] = e.defaultValue ?? e.value;
  for (const e of form.querySelectorAll("select")) defaults[e.name] = e.options[0].value;

  // Our meters take the place of the usual ones.
  for (const [kind, text] of Object.entries(meters())) {
    for (const e of fields) if (e.name.endsWith(".pm") && e.dataset.meter === kind) { e.defaultValue = text; defaults[e.name] = text; }
  }

  const state = () => Object.fromEntries(fields.filter((e) => e.value !== "" || defaults[e.name]).map((e) => [e.name, e.value]));
  // What differs from the form as delivered: the part worth an address.
  const changed = () => Object.fromEntries(fields.filter((e) => e.value !== defaults[e.name]).map((e) => [e.name, e.value]));
  const stands = new Map(); // the unit in which each field stands
  const put = (s) => {
    for (const e of fields) {
      e.value = s[e.name] ?? defaults[e.name] ?? "";
      if (e.selectedIndex === -1) e.value = defaults[e.name];
      if (e.classList.contains("unit")) stands.set(e.name, e.value);
    }
  };

  // The other language takes what is typed along.
  for (const a of document.querySelectorAll("a[data-language]")) a.addEventListener("click", () => { keep(); a.search = location.search; });

  const query = Object.fromEntries(new URLSearchParams(location.search));
  const given = Object.keys(query).some((k) => byName(k));
  const start = late() ?? (given ? query : recall(id) ?? {});
  put(start);
  if (query.class) document.documentElement.classList.add("class");

  let saved = () => {}; // tells the lots that the form changed
  let again, soon, rise; // timers: an address refused, an address to write, an answer to lay out
  const keep = () => {
    clearTimeout(soon);
    soon = undefined;
    const s = changed();
    remember(id, s);
    saved();
    const q = new URLSearchParams();
    for (const [k, v] of Object.entries(s)) if (v.length < 1500) q.set(k, v);
    if (query.class) q.set("class", "1");
    const text = q.toString();
    clearTimeout(again);
    try {
      history.replaceState(null, "", location.pathname + (text ? "?" + text : ""));
    } catch {
      again = setTimeout(keep, 1000); // a browser that allows a hundred in ten seconds: a slider makes more
    }
  };
  // A new address has the browser look for the page's icon again, among others:
  // it waits for a pause. Who leaves before that loses nothing.
  const keepSoon = () => {
    clearTimeout(soon);
    soon = setTimeout(keep, typing);
  };
  addEventListener("pagehide", () => {
    if (soon !== undefined) keep();
    keepLate(changed());
  });

  const said = new Map(); // the fault that stands beside each field
  const fault = (e, text) => {
    if ((said.get(e) ?? "") === text) return;
    const place = document.getElementById(e.id + "-fault");
    if (!place) return;
    said.set(e, text);
    place.textContent = text;
    const hint = e.name.endsWith(".pm") ? "meters-hint" : e.id + "-hint";
    e.setAttribute("aria-describedby", hint + (text ? " " + e.id + "-fault" : ""));
    if (text) e.setAttribute("aria-invalid", "true");
    else e.removeAttribute("aria-invalid");
  };

  // On a phone the answer lies below the fields: its first line stays in view.
  const glance = document.getElementById("glance");
  let seen = true;
  if ("IntersectionObserver" in window) {
    new IntersectionObserver((list) => {
      seen = list.at(-1).isIntersecting;
      glance.hidden = !glance.childNodes.length || seen;
      if (seen) lie(false);
    }).observe(document.querySelector(".answer"));
  }
  // While it lies out of sight and keys come, the answer keeps its last height
  // and is not laid out.
  const lie = (still) => result.classList.toggle("still", still);

  const veiled = () => result.classList.contains("veiled"); // a class guesses first
  const watchers = []; // what else wants to know of a new sheet
  let told = new Set(); // fields whose faults may be shown
  let sheet = {};
  let round = 0;
  let later;

  const show = (all) => {
    const faults = sheet.faults ?? [];
    if (all) told = new Set(faults.map((f) => f.field));
    for (const e of fields) {
      const f = faults.find((x) => x.field === e.name);
      if (!f) { told.delete(e.name); fault(e, ""); } else if (told.has(e.name)) fault(e, f.text);
    }
    summary.hidden = true;
    if (all && faults.length) {
      summary.replaceChildren(h("h2", {}, t("Fields to look at: {}", faults.length)),
        h("ul", {}, ...faults.map((f) => h("li", {}, h("a", { href: "#" + byName(f.field)?.id }, f.text)))));
      summary.hidden = false;
      for (const f of faults) byName(f.field)?.closest("details")?.setAttribute("open", "");
      summary.focus();
    }
    const waiting = faults.filter((f) => f.kind === "empty").length;
    if (faults.length) {
      result.replaceChildren();
      more.replaceChildren();
      wait.textContent = waiting === faults.length ? t("Waiting for: {}.", faults.map((f) => label(f.field)).join(", ")) : t("Waiting for a field that reads well.");
      wait.hidden = false;
    } else {
      wait.hidden = true;
      answer(result, sheet);
    }
    const first = faults.length ? undefined : sheet.values?.[0];
    const bad = first && worst(sheet), other = bad && bad.output !== first.id && bad.word !== sheet.verdicts.find((j) => j.output === first.id)?.word;
    glance.replaceChildren(...(sheet.overall && !faults.length ? [shape(sheet.overall), upper(t(sheet.overall))]
      : first && !veiled() ? [...(bad ? [shape(bad.word)] : []), other ? bad.label + " " + quantity(sheet.values.find((v) => v.id === bad.output)) : quantity(first)] : []));
    glance.hidden = !glance.childNodes.length || seen;
    document.getElementById("right").hidden = !sheet.values?.length || !document.querySelector("#solve select[name=field] option");
    clearTimeout(later);
    later = setTimeout(() => { say.textContent = faults.length || veiled() ? "" : spoken(sheet); }, pause);
    document.documentElement.dataset.shown = String(round);
  };
  const showFigures = (s) => { if (!s.faults) behind(more, s); };
  const showWorking = (s) => {
    if (!s.faults) working(document.getElementById("working-lines"), s);
    document.documentElement.dataset.whole = String(round);
    for (const w of watchers) w();
  };
  const showWhole = () => { showFigures(sheet); showWorking(sheet); };

  const data = offerData(form, { calc: id, place: () => where, show(s) { sheet = s; show(false); showWhole(); }, changed: () => compute(false) });

  // The figures and the working follow when the answer has been seen: at once
  // where they cost little here, else in parts between which a key gets its
  // turn, when the keys pause, the longer the more they cost. A slider's follow
  // while it moves.
  let cost = 0, following = false, keys = false, moved = 0;
  const paused = async (patience) => {
    const end = performance.now() + patience;
    for (let now, due; (now = performance.now()) < (due = moved + Math.min(typed, typing + 2 * cost));) {
      if (now >= end) return false;
      await rest(Math.min(due, end) - now);
    }
    return true;
  };
  const follow = async () => {
    if (following) return;
    following = true;
    try {
      for (let done; done !== round;) {
        await painted();
        const last = cost > cheap && !await paused(keys ? Infinity : patience); // the slider goes on: draw what there is
        done = round;
        if (data.busy()) break; // the worker brings the whole
        let spent = 0;
        const part = async (f) => {
          const from = performance.now();
          const s = await f();
          spent += performance.now() - from;
          if (cost > cheap) await rest(0);
          return s;
        };
        let s = sheet;
        if (!s.faults) s = await part(() => ask("evaluate", id, state())) ?? {};
        if (done !== round && !last) continue;
        if (!sheet.faults) await part(() => showFigures(s));
        if (done === round) {
          sheet = s;
          showWorking(s);
        }
        cost = spent;
      }
    } finally {
      following = false;
    }
  };

  const compute = async (all) => {
    const mine = ++round;
    moved = performance.now();
    if (data.busy()) {
      data.evaluate(state());
      return;
    }
    const s = await ask("brief", id, state());
    if (mine !== round) return; // a newer one is on its way
    sheet = s ?? {};
    show(all);
    follow();
  };

  // A browser compiles the bundle in haste, and once more with care what runs
  // often: the example runs while nothing else does, and the first key finds
  // quick code.
  const warm = async () => {
    const example = JSON.parse(form.dataset.example), at = round;
    for (let n = 0, spent = 0; n < rounds && spent < idleness; n++) {
      await new Promise((done) => "requestIdleCallback" in window ? requestIdleCallback(done) : setTimeout(done, 50));
      if (round !== at || data.busy()) return;
      const from = performance.now();
      await ask(n === 1 ? "evaluate" : "brief", id, example);
      spent += performance.now() - from;
    }
  };

  form.addEventListener("input", (event) => {
    keys = event.isTrusted; // a slider of the class writes into the field itself
    lie(!seen);
    clearTimeout(rise);
    rise = setTimeout(lie, typed, false);
    keepSoon();
    saved();
    compute(false);
  });
  // A fault that appears while a button is being pressed would push it from
  // under the finger, and the press would be lost: it waits for the release.
  let pressed = Promise.resolve();
  addEventListener("pointerdown", () => {
    pressed = new Promise((done) => {
      for (const end of ["pointerup", "pointercancel"]) addEventListener(end, () => setTimeout(done), { once: true, capture: true });
    });
  }, true);
  form.addEventListener("change", async (event) => {
    const e = event.target;
    if (!e.name) return;
    if (e.classList.contains("unit")) switchUnit(e);
    keep();
    const at = round;
    await pressed;
    if (round !== at) return; // the button has told all faults, or filled the form anew
    told.add(e.name);
    compute(false);
  });
  summary.addEventListener("click", (event) => {
    const a = event.target.closest("a");
    if (!a) return;
    event.preventDefault();
    const e = document.querySelector(a.getAttribute("href"));
    e?.closest(".ask")?.scrollIntoView({ block: "center" });
    e?.focus({ preventScroll: true });
  });

  // Switching a unit converts what was typed and the meter's plus-minus;
  // switching back gives back the very characters.
  const originals = new Map();
  const differences = { "°C": "K", "°F": "°F difference" }; // a plus-minus has no zero point
  const turn = async (e, base, from, to) => {
    if (!e?.value.trim() || from === to) return;
    const was = originals.get(e.name);
    let text;
    if (was && was.shown === e.value && was.unit === to) text = was.text;
    else text = await ask("convert", e.value, base, from, to);
    if (typeof text === "string") text = n(text);
    if (typeof text !== "string") return;
    if (!was || was.shown !== e.value) originals.set(e.name, { text: e.value, unit: from });
    originals.get(e.name).shown = text;
    e.value = text;
  };
  const turnMeter = (name, from, to) => turn(byName(name + ".pm"), ...[byName(name).dataset.base, from, to].map((u) => differences[u] ?? u));
  // A number in a smaller unit has digits that nobody read: what the last digit
  // typed left open goes on into the plus-minus.
  const half = (text) => 0.5 * 10 ** -(/[.,](\d+)\D*$/.exec(text)?.[1].length ?? 0);
  async function switchUnit(select) {
    const name = select.name.slice(0, -5);
    const from = stands.get(select.name), to = select.value;
    stands.set(select.name, to);
    const e = byName(name), pm = byName(name + ".pm"), before = pm?.value, base = e.dataset.base;
    const unit = (u) => differences[u] ?? u;
    const old = originals.get(e.name), back = old?.shown === e.value && old.unit === to; // the very characters again
    const was = pm && !back && e.value.trim() ? Number(await ask("convert", half(e.value).toFixed(12), unit(base), unit(from), unit(to))) : 0;
    await turn(e, base, from, to);
    await turnMeter(name, from, to);
    const now = half(e.value);
    if (was > 1.01 * now) {
      const wide = Math.hypot(Number(pm.value.replace(",", ".")) || 0, Math.sqrt(was ** 2 - now ** 2));
      const text = n(String(Number(wide.toPrecision(2))));
      originals.set(pm.name, { text: before, unit: unit(from), shown: text });
      pm.value = text;
    }
    keep();
    compute(false);
  }
  // An address may bring a unit and leave the meter as it usually is.
  const fitMeters = async (s) => {
    for (const [select, unit] of stands) {
      const name = select.slice(0, -5);
      if (s[name + ".pm"] === undefined) await turnMeter(name, byName(name).dataset.base, unit);
    }
  };

  // Steps of one in the last digit that stands in the field.
  const step = (e, by) => {
    keys = false;
    const m = /^(\s*)([-−]?)(\d[\d\s]*)(?:([.,])(\d*))?(.*)$/s.exec(e.value);
    if (!m) return;
    const places = m[5]?.length ?? 0;
    const whole = BigInt(m[3].replace(/\s/g, "") + (m[5] ?? "")) * (m[2] ? -1n : 1n) + BigInt(by);
    const digits = (whole < 0n ? -whole : whole).toString().padStart(places + 1, "0");
    e.value = m[1] + (whole < 0n ? "-" : "") + digits.slice(0, digits.length - places) + (places ? m[4] + digits.slice(-places) : "") + m[6];
    keep();
    compute(false);
  };
  form.addEventListener("click", (event) => {
    const b = event.target.closest(".step");
    if (b) step(b.parentElement.querySelector("input"), Number(b.dataset.step));
  });
  form.addEventListener("keydown", (event) => {
    if (event.target.dataset.base === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    event.preventDefault();
    step(event.target, event.key === "ArrowUp" ? 1 : -1);
  });

  document.getElementById("ours")?.addEventListener("click", async () => {
    const own = {}; // in the fields' first units
    for (const e of fields) {
      if (!e.name.endsWith(".pm") || !e.dataset.meter || !e.value.trim()) continue;
      const name = e.name.slice(0, -3), base = byName(name).dataset.base, unit = stands.get(name + ".unit") ?? base;
      const text = unit === base ? e.value.trim() : await ask("convert", e.value, ...[base, unit, base].map((u) => differences[u] ?? u));
      if (typeof text === "string") own[e.dataset.meter] = text;
    }
    document.getElementById("ours-said").textContent = keepMeters(own) ? t("Kept on this device.") : t("This browser does not let the page keep anything.");
  });

  document.getElementById("example").addEventListener("click", () => {
    const s = JSON.parse(form.dataset.example);
    data.leave();
    put(s);
    told.clear();
    keep();
    compute(false);
  });
  document.getElementById("clear").addEventListener("click", () => {
    data.leave();
    put({});
    told.clear();
    keep();
    compute(false);
    fields[0].focus();
  });
  const solve = document.getElementById("solve");
  const unit = () => { document.getElementById("solve-unit").textContent = solve.elements.output.selectedOptions[0]?.dataset.unit ?? ""; };
  solve.elements.output.addEventListener("change", unit);
  unit();
  solve.addEventListener("submit", async (event) => {
    event.preventDefault();
    const field = solve.elements.field.value;
    const a = await ask("solve", id, state(), field, solve.elements.output.value, solve.elements.target.value);
    const e = byName(field);
    const place = document.getElementById("solved");
    if (a.text) {
      const found = n(a.text);
      const sign = byName(field + ".unit")?.selectedOptions[0].textContent ?? e.dataset.base;
      const take = h("button", { type: "button" }, t("Put it in the form"));
      take.addEventListener("click", () => { e.value = found; keep(); compute(false); e.focus(); });
      place.replaceChildren(solve.elements.field.selectedOptions[0].textContent + ": " + found + (sign ? " " + sign : "") + " ", take);
    } else place.replaceChildren(a.why ?? a.problem ?? "");
  });

  addEventListener("beforeprint", () => {
    document.getElementById("printed").textContent = new Date().toLocaleString(lang);
    for (const d of document.querySelectorAll("details:not([open])")) { d.open = true; d.dataset.forPaper = "1"; }
    for (const e of form.querySelectorAll(".words")) e.parentElement.dataset.words = e.value; // a line of typing does not break
    for (const e of form.querySelectorAll(".meters .ask")) e.classList.toggle("none", !e.querySelector("input").value);
    fit(document.getElementById("working"));
  });
  addEventListener("afterprint", () => {
    for (const d of document.querySelectorAll("details[data-for-paper]")) { d.open = false; delete d.dataset.forPaper; }
  });

  if (query.class) {
    const { holdClass } = await import("./class.js");
    holdClass(id, form, { sheet: () => sheet, onShow: (f) => watchers.push(f) });
  }

  offerTools(id, (extra) => {
    const q = new URLSearchParams({ ...changed(), ...extra });
    return location.origin + location.pathname + "?" + q;
  });

  try {
    await fitMeters(start);
    sheet = await ask("evaluate", id, state()) ?? {};
    show(false);
    showWhole();
  } catch (err) {
    wait.textContent = t("The calculator could not start: {} A page opened from a file wants a server: run go run ./wasm/serve.", err.message);
  }
  if (document.getElementById("lots")) {
    const { holdLots } = await import("./lots.js");
    saved = await holdLots({
      put(s) {
        put(s);
        told.clear();
        const now = saved;
        saved = () => {}; // what was just read needs no saving
        keep();
        saved = now;
        compute(false);
      },
      changed, label, names: fields.map((e) => e.name), usual: defaults,
      head(name) { // of its column in a table of lots
        const e = byName(name), of = byName(name.replace(/\.pm$/, "")), columns = e.dataset.columns?.split("|"), units = e.dataset.units?.split("|");
        const unit = byName(of.name + ".unit") ? "" : of.dataset.base; // it has a column of its own
        return {
          label: (e.getAttribute("aria-label") ?? label(name)) + (unit ? ", " + unit : "") + (columns ? ": " + columns.map((c, i) => c + (units[i] ? ", " + units[i] : "")).join("; ") : ""),
          number: of.dataset.base !== undefined, columns: columns?.length,
        };
      },
    }, given);
  }

  document.documentElement.dataset.ready = "1";
  warm().catch(() => {}); // what fails here fails where it is asked for, and is told there
}
