// <evenlot-calculator calculator="room-moisture" t="18.0" rh="57"></evenlot-calculator>
//
// One calculator in any page. Its attributes are those of the calculator's
// address: a field's name, NAME.unit, NAME.pm for the plus-minus; field-NAME
// where HTML has an attribute of that name, such as class. After every
// evaluation it sends a `sheet` event whose detail is the result. It writes no
// style and no script into the page, so that a strict content security policy
// may stand.
import { load } from "./evenlot.js";
import { shower } from "./evenlot-sheet.js";

const pause = 600; // ms without a key before the answer is spoken
const reserved = new Set(["calculator", "language", "folder", "id", "class", "style", "lang", "title", "dir", "part", "slot", "hidden", "role", "tabindex"]);
const differences = { "°C": "K", "°F": "°F difference" }; // a plus-minus has no zero point

const look = new CSSStyleSheet();
look.replaceSync(/*{{CSS}}*/ "");

// Markup comes from this package alone; a page that requires trusted types
// allows the policy evenlot.
const policy = globalThis.trustedTypes?.createPolicy("evenlot", { createHTML: (s) => s });
const trusted = (markup) => policy ? policy.createHTML(markup) : markup;

const loaded = new Map();
function shared(base, language) {
  const key = base + " " + language;
  if (!loaded.has(key)) {
    const e = load({ base, language });
    loaded.set(key, e);
    e.catch(() => loaded.delete(key));
  }
  return loaded.get(key);
}

export class EvenlotCalculator extends HTMLElement {
  #root = this.attachShadow({ mode: "open" });
  #turn = 0; // of the form
  #round = 0; // of the evaluation
  #watch = new MutationObserver((list) => this.#attributes(list.map((m) => m.attributeName)));
  #stop;
  #evenlot;
  #form;
  #defaults;
  #stands = new Map(); // the unit in which each field stands
  #told = new Set(); // fields whose faults may be shown
  #show;
  #later;
  #result;

  constructor() {
    super();
    this.#root.adoptedStyleSheets = [look];
  }

  // result is what the last `sheet` event said.
  get result() { return this.#result; }

  connectedCallback() {
    this.#watch.observe(this, { attributes: true });
    this.#start();
  }

  disconnectedCallback() {
    this.#watch.disconnect();
    this.#turn++;
    this.#stop?.abort();
    clearTimeout(this.#later);
  }

  #id(id) { return this.#root.getElementById(id); }
  #fields() { return [...this.#form.elements].filter((e) => e.name); }
  #named(name) { return this.#fields().find((e) => e.name === name); }

  async #start() {
    const mine = ++this.#turn;
    this.#stop?.abort();
    this.#form = undefined;
    const language = this.getAttribute("language") ?? "en";
    const base = new URL(this.getAttribute("folder") ?? new URL("./", import.meta.url), document.baseURI);
    const id = this.getAttribute("calculator") ?? "";
    try {
      const e = await shared(base, language);
      if (!/^[a-z0-9-]+$/.test(id)) throw new Error("calculator=" + JSON.stringify(id));
      const answer = await fetch(new URL("forms/" + language + "/" + id + ".json", base));
      if (!answer.ok) throw new Error(id + ": " + answer.status);
      const form = await answer.json();
      if (mine !== this.#turn) return; // another one was asked for meanwhile
      this.#evenlot = e;
      this.#fill(id, form);
      await this.#compute(false);
    } catch (err) {
      if (mine !== this.#turn) return;
      const p = document.createElement("p");
      p.className = "problem";
      p.setAttribute("role", "alert");
      p.textContent = err.message;
      this.#root.replaceChildren(p);
    }
  }

  #fill(id, form) {
    const { say, language } = this.#evenlot;
    const comma = language !== "en";
    this.#show = shower(say, (text) => comma ? String(text).replace(/(\d)\.(?=\d)/g, "$1,") : String(text), trusted);
    const t = document.createElement("template");
    t.innerHTML = trusted(form.html);
    this.#root.replaceChildren(t.content);
    this.#form = this.#id("form");
    this.#told.clear();
    this.#defaults = {};
    for (const e of this.#fields()) this.#defaults[e.name] = e.localName === "select" ? e.options[0].value : e.defaultValue;
    this.#put({});
    this.#take(this.getAttributeNames());
    this.#stop = new AbortController();
    const on = (target, type, act) => target.addEventListener(type, act, { signal: this.#stop.signal });
    on(this.#form, "input", () => this.#compute(false));
    on(this.#form, "change", (event) => this.#changed(event.target));
    on(this.#form, "submit", (event) => { event.preventDefault(); this.#compute(true); });
    on(this.#form, "click", (event) => {
      const b = event.target.closest(".step");
      if (b) this.#step(b.parentElement.querySelector("input"), Number(b.dataset.step));
    });
    on(this.#form, "keydown", (event) => {
      if (event.target.dataset.base === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
      if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
      event.preventDefault();
      this.#step(event.target, event.key === "ArrowUp" ? 1 : -1);
    });
    on(this.#id("example"), "click", () => { this.#put(form.example); this.#told.clear(); this.#compute(false); });
    on(this.#id("clear"), "click", () => { this.#put({}); this.#told.clear(); this.#compute(false); this.#fields()[0].focus(); });
    on(this.#id("summary"), "click", (event) => {
      const a = event.target.closest("a");
      if (!a) return;
      event.preventDefault();
      this.#id(a.getAttribute("href").slice(1))?.focus();
    });
  }

  #put(state) {
    for (const e of this.#fields()) {
      e.value = state[e.name] ?? this.#defaults[e.name] ?? "";
      if (e.selectedIndex === -1) e.value = this.#defaults[e.name];
      if (e.classList.contains("unit")) this.#stands.set(e.name, e.value);
    }
  }

  // take puts attributes into the fields of their names.
  #take(names) {
    let any = false;
    for (const attribute of names) {
      if (reserved.has(attribute)) continue;
      const name = attribute.replace(/^field-/, "");
      const e = this.#named(name) ?? this.#fields().find((x) => x.name.toLowerCase() === name);
      if (!e) continue;
      e.value = this.getAttribute(attribute) ?? this.#defaults[e.name] ?? "";
      if (e.selectedIndex === -1) e.value = this.#defaults[e.name];
      if (e.classList.contains("unit")) this.#stands.set(e.name, e.value);
      any = true;
    }
    return any;
  }

  #attributes(names) {
    if (names.some((n) => n === "calculator" || n === "language" || n === "folder")) this.#start();
    else if (this.#form && this.#take(names)) this.#compute(false);
  }

  #state() {
    return Object.fromEntries(this.#fields().filter((e) => e.value !== "").map((e) => [e.name, e.value]));
  }

  async #changed(e) {
    if (e.type === "file") {
      const into = this.#id(e.dataset.into);
      const [file] = e.files;
      if (file) into.value = await file.text();
      e = into;
    }
    if (!e.name) return;
    if (e.classList.contains("unit")) await this.#switchUnit(e);
    this.#told.add(e.name);
    this.#compute(false);
  }

  // Switching a unit converts what was typed and its plus-minus.
  async #switchUnit(select) {
    const name = select.name.slice(0, -5), e = this.#named(name), base = e.dataset.base;
    const from = this.#stands.get(select.name), to = select.value;
    this.#stands.set(select.name, to);
    const turn = async (e, ...units) => {
      if (!e?.value.trim()) return;
      const text = await this.#evenlot.convert(this.getAttribute("calculator"), e.value, ...units);
      if (text !== null) e.value = text;
    };
    await turn(e, base, from, to);
    await turn(this.#named(name + ".pm"), ...[base, from, to].map((u) => differences[u] ?? u));
  }

  // Steps of one in the last digit that stands in the field.
  #step(e, by) {
    const m = /^(\s*)([-−]?)(\d+)(?:([.,])(\d*))?(.*)$/s.exec(e.value);
    if (!m) return;
    const places = m[5]?.length ?? 0;
    const whole = BigInt(m[3] + (m[5] ?? "")) * (m[2] ? -1n : 1n) + BigInt(by);
    const digits = (whole < 0n ? -whole : whole).toString().padStart(places + 1, "0");
    e.value = m[1] + (whole < 0n ? "-" : "") + digits.slice(0, digits.length - places) + (places ? m[4] + digits.slice(-places) : "") + m[6];
    this.#compute(false);
  }

  async #compute(all) {
    const mine = ++this.#round, form = this.#form;
    const r = await this.#evenlot.evaluate(this.getAttribute("calculator"), this.#state());
    if (mine !== this.#round || form !== this.#form) return; // a newer one is on its way
    this.#result = r;
    this.#tell(r, all);
    this.dispatchEvent(new CustomEvent("sheet", { detail: r, bubbles: true, composed: true }));
  }

  #label(name) {
    const e = this.#named(name);
    return e?.labels?.[0]?.firstChild.textContent.trim() ?? name;
  }

  #fault(e, text) {
    const place = this.#id(e.id + "-fault");
    if (!place) return;
    place.textContent = text;
    const hint = e.name.endsWith(".pm") ? "meters-hint" : e.id + "-hint";
    e.setAttribute("aria-describedby", hint + (text ? " " + e.id + "-fault" : ""));
    if (text) e.setAttribute("aria-invalid", "true");
    else e.removeAttribute("aria-invalid");
  }

  #tell(r, all) {
    const { say } = this.#evenlot;
    const { h, answer, behind, working, spoken } = this.#show;
    const faults = r.ok ? [] : r.faults;
    const wait = this.#id("wait"), result = this.#id("result"), more = this.#id("more"), summary = this.#id("summary");
    if (all) this.#told = new Set(faults.map((f) => f.field));
    for (const e of this.#fields()) {
      const f = faults.find((x) => x.field === e.name);
      if (!f) { this.#told.delete(e.name); this.#fault(e, ""); } else if (this.#told.has(e.name)) this.#fault(e, f.text);
    }
    summary.hidden = true;
    if (all && faults.length) {
      summary.replaceChildren(h("h3", {}, say("Fields to look at: {}", faults.length)),
        h("ul", {}, ...faults.map((f) => h("li", {}, h("a", { href: "#" + this.#named(f.field)?.id }, f.text)))));
      summary.hidden = false;
      for (const f of faults) this.#named(f.field)?.closest("details")?.setAttribute("open", "");
      summary.focus();
    }
    const sheet = { ...r, values: Object.values(r.values ?? {}) };
    wait.hidden = faults.length === 0;
    if (faults.length) {
      result.replaceChildren();
      more.replaceChildren();
      wait.textContent = faults.every((f) => f.kind === "empty")
        ? say("Waiting for: {}.", faults.map((f) => this.#label(f.field)).join(", ")) : say("Waiting for a field that reads well.");
    } else {
      answer(result, sheet);
      behind(more, sheet);
      working(this.#id("working"), sheet);
    }
    clearTimeout(this.#later);
    const out = this.#id("spoken");
    this.#later = setTimeout(() => { out.textContent = faults.length ? "" : spoken(sheet); }, pause);
  }
}

if (!customElements.get("evenlot-calculator")) customElements.define("evenlot-calculator", EvenlotCalculator);
