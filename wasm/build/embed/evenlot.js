// Evenlot as an ES module, for browsers and for Node 20 and later.
//
//   import { load } from "evenlot";
//   const e = await load();
//   const r = await e.roomMoisture({ t: "18.0", rh: 57 });
//   if (r.ok) console.log(r.values.m.text, r.values.m.plusMinus, r.values.m.unit);
//   else console.log(r.faults, r.problem);
//
// A function never rejects: what stands in the way of an answer comes back as
// an object. The bundle of a calculator is read when it is first asked.
import { world } from "./wasm_exec.js";

const calculators = /*{{CALCULATORS}}*/ {};
const integrity = /*{{INTEGRITY}}*/ {};

export const version = "{{VERSION}}";
export const languages = Object.freeze(/*{{LANGUAGES}}*/ ["en"]);

const here = new URL("./", import.meta.url);
const camel = (id) => id.replace(/-(.)/g, (_, c) => c.toUpperCase());

// read gives the bytes of a file of the folder, as a Response.
async function read(base, name) {
  if (base.protocol === "file:" && globalThis.process?.versions?.node) {
    const fs = "node:fs/promises"; // by a name that no bundler follows
    const { readFile } = await import(/* webpackIgnore: true */ /* @vite-ignore */ fs);
    return new Response(await readFile(new URL(name, base)));
  }
  const answer = await fetch(new URL(name, base), { integrity: integrity[name] ?? "" });
  if (!answer.ok) throw new Error(name + ": " + answer.status);
  return answer;
}

const compiled = new Map(); // address of a bundle → promise of its module

function compile(base, bundle) {
  const key = base.href + bundle;
  if (!compiled.has(key)) {
    const made = compressed(base, bundle).catch(() => whole(base, bundle));
    compiled.set(key, made);
    made.catch(() => compiled.delete(key)); // the network may come back
  }
  return compiled.get(key);
}

// compressed takes the small copy; whole is for a browser without
// DecompressionStream and for a server that unpacks what it sends.
async function compressed(base, bundle) {
  const packed = await read(base, bundle + ".wasm.gz");
  const plain = packed.body.pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(plain).arrayBuffer());
}

async function whole(base, bundle) {
  return WebAssembly.compile(await (await read(base, bundle + ".wasm")).arrayBuffer());
}

// start runs a bundle in a world of its own: it sees these and nothing else
// of the page, and leaves nothing on globalThis.
async function start(base, bundle, table) {
  const { crypto, performance, TextEncoder, TextDecoder } = globalThis;
  const own = world({ Object, Array, Uint8Array, Date, crypto, performance, TextEncoder, TextDecoder });
  const module = await compile(base, bundle);
  const go = new own.Go();
  const ready = new Promise((done) => { own.evenlotReady = done; });
  const instance = await WebAssembly.instantiate(module, go.importObject);
  const ended = go.run(instance);
  await Promise.race([ready, ended.then(() => { throw new Error("the bundle ended while it started"); })]);
  if (table) own.evenlot.speak(flat(table), true);
  own.evenlot.sheet = teller(instance.exports, own.evenlot);
  return { verbs: own.evenlot, number: instance.exports.number, ended };
}

// teller asks for a sheet through the memory of the bundle.
function teller({ mem, room, sheet }, verbs) {
  const write = new TextEncoder(), text = new TextDecoder();
  return (id, state, figures) => {
    const question = write.encode(id + "\u0001" + state);
    const at = room(question.length); // may make the memory grow, and its buffer another
    new Uint8Array(mem.buffer, at, question.length).set(question);
    const length = sheet(question.length, figures ? 2 : 1);
    return length < 0 ? verbs.lapse() : text.decode(new Uint8Array(mem.buffer, room(0), length));
  };
}

// flat writes an object of strings as the one string that a bundle reads.
const clean = (s) => String(s).replaceAll("\u0001", "");
const flat = (o) => Object.entries(o).map(([k, v]) => clean(k) + "\u0001" + clean(v) + "\u0001").join("");

// plain writes a number with digits and one point. A leading zero keeps
// 1.234 from being read as 1234, which a typed 1.234 may mean.
function plain(x) {
  const s = String(x);
  const m = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(s);
  if (!m) return s.replace(/^(-?)(?=[1-9]\d{0,2}\.\d{3}$)/, "$10");
  const digits = m[2] + (m[3] ?? ""), at = 1 + Number(m[4]);
  return m[1] + (at <= 0 ? "0." + "0".repeat(-at) + digits : digits.padEnd(at, "0"));
}

const two = (n) => String(n).padStart(2, "0");

const writers = {
  number: (v) => typeof v === "number" ? plain(v) : typeof v === "string" ? v : undefined,
  choice: (v) => typeof v === "string" ? v : undefined,
  words: (v) => typeof v === "string" ? v : undefined,
  moment: (v) => v instanceof Date && !Number.isNaN(v.getTime())
    ? v.getFullYear() + "-" + two(v.getMonth() + 1) + "-" + two(v.getDate()) + "T" + two(v.getHours()) + ":" + two(v.getMinutes())
    : typeof v === "string" ? v : undefined,
  series(v) {
    if (typeof v === "string") return v;
    if (!Array.isArray(v)) return undefined;
    const lines = [];
    for (const row of v) {
      const cells = Array.isArray(row) ? row : [row];
      const texts = cells.map((c) => c === null || c === undefined ? "" : writers.number(c));
      if (texts.includes(undefined)) return undefined;
      lines.push(texts.join(";"));
    }
    return lines.join("\n");
  },
};

// keysOf lists what a function takes: name → [where it goes, how it is written].
function keysOf(c) {
  if (c.keys) return c.keys;
  const keys = new Map();
  for (const [id, kind] of Object.entries(c.fields)) {
    const name = camel(id);
    keys.set(name, [id, kind === "exact" ? "number" : kind]);
    if (kind === "number" || kind === "exact") keys.set(name + "Unit", [id + ".unit", "choice"]);
    if (kind === "number") keys.set(name + "PlusMinus", [id + ".pm", "number"]);
  }
  for (const id of Object.keys(c.limits ?? {})) keys.set(camel(id), [id, "number"]);
  c.keys = keys;
  c.names = new Map([...keys].map(([name, [id]]) => [id, name]));
  return keys;
}

// stateOf writes an input as the characters that stand in a form.
function stateOf(c, input) {
  const keys = keysOf(c), state = { ...c.limits }, faults = [];
  for (const [id, text] of Object.entries(state)) if (text === "") delete state[id];
  for (const [name, v] of Object.entries(input)) {
    const key = keys.get(name);
    if (!key) {
      faults.push({ field: name, kind: "unknown", text: "There is no field " + name + "." });
      continue;
    }
    if (v === undefined) continue;
    const text = v === null ? "" : writers[key[1]](v);
    if (text === undefined) faults.push({ field: name, kind: "unreadable", text: name + " takes no " + (Array.isArray(v) ? "such list" : typeof v) + "." });
    else state[key[0]] = text;
  }
  return { state, faults };
}

// resultOf turns a sheet into a result.
function resultOf(sheet, names) {
  const faults = (sheet.faults ?? []).map((f) => ({ ...f, field: names?.get(f.field) ?? f.field }));
  const rows = (sheet.rows ?? []).map((r) => ({ faults: [], ...r, field: names?.get(r.field) ?? r.field }));
  if (faults.length || sheet.problem) return sheet.problem ? { ok: false, faults, problem: sheet.problem, rows } : { ok: false, faults, rows };
  const r = { ok: true, values: {}, verdicts: [], missing: [], working: [], notes: [], figures: [], tables: [], ...sheet, rows };
  delete r.calc;
  r.values = Object.fromEntries((sheet.values ?? []).map((v) => [v.id, v]));
  r.read = Object.fromEntries((sheet.read ?? []).map((u) => [names?.get(u.field) ?? u.field, u.text]));
  return r;
}

// load prepares the calculators; it reads no bundle yet.
export async function load({ base = here, language = "en" } = {}) {
  if (!languages.includes(language)) throw new RangeError("evenlot: no language " + language + "; there are " + languages.join(", "));
  const folder = new URL(base, globalThis.document?.baseURI ?? here);
  const table = language === "en" ? undefined : await (await read(folder, "words/" + language + ".json")).json();
  const running = new Map(); // bundle → promise of its instance

  const say = (english, ...args) => {
    let i = 0;
    return (table?.[english] ?? english).replace(/\{(\d?)\}/g, (_, n) => args[n ? n - 1 : i++] ?? "");
  };

  const instance = (bundle) => {
    if (!running.has(bundle)) {
      const starting = start(folder, bundle, table);
      const forget = () => { if (running.get(bundle) === starting) running.delete(bundle); };
      running.set(bundle, starting);
      starting.then((i) => i.ended).then(forget, forget);
    }
    return running.get(bundle);
  };

  // ask calls one function of a bundle; a panic inside restarts the instance.
  const ask = async (bundle, verb, ...args) => {
    let i;
    try {
      i = await instance(bundle);
    } catch (err) {
      return { problem: say("The calculator's file could not be read ({}).", err.message) };
    }
    let answer;
    try {
      answer = i.verbs[verb](...args.map((a) => a !== null && typeof a === "object" ? flat(a) : a));
    } catch (err) {
      answer = { panic: String(err) };
    }
    if (answer?.panic === undefined) return answer;
    running.delete(bundle);
    return { problem: say("This calculation failed inside ({}). What was typed is kept; the calculator was started anew.", answer.panic) };
  };

  const byId = (id) => Object.values(calculators).find((c) => c.id === id);
  const sheetOf = async (c, state, { figures = true } = {}, names) => {
    const answer = await ask(c.bundle, "sheet", c.id, state, Boolean(figures));
    return resultOf(typeof answer === "string" ? JSON.parse(answer) : answer, names);
  };

  // What is asked of a calculator with one of its numbers free.
  const turn = (c, name, input, field) => {
    if (!c) return { why: "There is no calculator " + name + "." };
    const { state, faults } = stateOf(c, input);
    if (faults.length) return { why: faults.map((f) => f.text).join(" ") };
    return { state, id: keysOf(c).get(field)?.[0] ?? field };
  };
  const turns = {
    async solve(c, name, input, field, output, target) {
      const t = turn(c, name, input, field);
      if (t.why) return { ok: false, why: t.why };
      const r = await ask(c.bundle, "solve", c.id, t.state, t.id, output, writers.number(target) ?? "");
      return r.text ? { ok: true, text: r.text } : { ok: false, why: r.why ?? r.problem };
    },
    async dial(c, name, input, field, output) {
      const t = turn(c, name, input, field);
      if (t.why) return { ok: false, why: t.why };
      const me = {}; // an instance has one dial: whoever turns it aims it first
      let i;
      const aim = async () => {
        const r = await ask(c.bundle, "aim", c.id, t.state, t.id, output);
        if (r.why ?? r.problem) return { ok: false, why: r.why ?? r.problem };
        i = await instance(c.bundle);
        i.aimed = me;
        return r;
      };
      const r = await aim();
      if (r.ok === false) return r;
      const ready = () => { if (i.aimed !== me) { i.verbs.aim(c.id, flat(t.state), t.id, output); i.aimed = me; } };
      const check = () => {
        const failed = i.verbs.lapse();
        if (failed) {
          running.delete(c.bundle);
          throw new Error("evenlot: " + failed.panic);
        }
      };
      return {
        ok: true, lo: r.lo, hi: r.hi,
        at(x) {
          if (i.aimed !== me) ready();
          const y = i.number(x);
          if (y === y) return y;
          check();
          return null;
        },
        curve(from, to, points) {
          ready();
          const y = new Float64Array(points);
          const failed = i.verbs.curve(from, to, new Uint8Array(y.buffer))?.panic;
          if (failed) {
            running.delete(c.bundle);
            throw new Error("evenlot: " + failed);
          }
          return y;
        },
      };
    },
  };

  const e = {
    language,
    say,
    // evaluate asks by the calculator's address and a form's characters.
    async evaluate(id, state, options) {
      const c = byId(id);
      if (!c) return { ok: false, faults: [], problem: "There is no calculator " + id + "." };
      return sheetOf(c, state, options);
    },
    // convert turns what was typed from one unit into another; null if it cannot.
    async convert(id, typed, unit, from, to) {
      const answer = await ask(byId(id).bundle, "convert", typed, unit, from, to);
      return typeof answer === "string" ? answer : null;
    },
  };
  for (const verb of ["solve", "dial"]) e[verb] = (name, ...args) => turns[verb](calculators[name], name, ...args);
  for (const [name, c] of Object.entries(calculators)) {
    e[name] = async (input = {}, options) => {
      const { state, faults } = stateOf(c, input);
      const r = await sheetOf(c, state, options, c.names);
      if (!faults.length) return r;
      // All faults together, each field once.
      const others = r.ok ? [] : r.faults.filter((f) => !faults.some((x) => x.field === f.field));
      return { ok: false, faults: [...faults, ...others], rows: r.rows ?? [] };
    };
  }
  return Object.freeze(e);
}
