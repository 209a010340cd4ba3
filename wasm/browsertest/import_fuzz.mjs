// Files of lots, damaged at random: each is refused with a word, or read so
// that writing and reading it again gives the same lots.
//
//	node import_fuzz.mjs SECONDS [SEED]
import { read, write } from "../page/lotfile.js";

let seed = Number(process.argv[3] ?? 1) >>> 0;
const random = (n) => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return Math.floor(seed / 4294967296 * n);
};
const pick = (list) => list[random(list.length)];

const fields = ["lot", "gm", "rh", "rh.unit", "rh.pm", "gm-min", "roasted"];
const entry = { at: "2026-11-25T14:30:00.000Z", by: "Ana (invented)" };
const lot = (id) => ({ id, rev: 3, created: entry.at, changed: entry.at, state: { lot: "Crake Hill (invented)", gm: "11,9", "rh.unit": "%" },
  card: { name: "Crake Hill", first: "plum", copies: "4" }, history: [{ ...entry, field: "gm", to: "11,9" }], notes: [{ ...entry, text: "dry" }] });
const whole = JSON.parse(write([lot("0b8f6c1e-aaaa"), lot("0b8f6c1e-bbbb")]));

const hostile = () => pick([null, true, 0, -1, 1.5, 1e308, 2 ** 53, "", " ", "x", "\u0000", "\ud800", "=cmd()", "<img src=x onerror=alert(1)>", "x".repeat(5000), "2026-02-30T00:00:00Z",
  "9999-99-99T99:99:99Z", "__proto__", [], [[]], {}, { a: 1 }, Array(10).fill({}), JSON.parse('{"__proto__":{"lots":[]}}'), "constructor", [null], "0b8f6c1e-aaaa"]);

// places are the objects and lists of a value, itself included.
const places = (v) => v !== null && typeof v === "object" ? [v, ...Object.values(v).flatMap(places)] : [];

function damage(text) {
  const kind = random(3);
  if (kind === 0) { // in its structure
    const v = JSON.parse(text);
    for (let i = 0; i <= random(3); i++) {
      const at = pick(places(v)), keys = Object.keys(at);
      const what = random(4);
      if (what === 0 && keys.length) delete at[pick(keys)];
      else if (what === 1) Object.defineProperty(at, pick([...keys, "__proto__", "toString", "x", 0, 99]), { value: hostile(), enumerable: true, writable: true, configurable: true });
      else if (what === 2 && keys.length) at[pick(keys)] = pick(places(v).map((p) => JSON.parse(JSON.stringify(p))));
      else if (keys.length) at[pick(keys)] = hostile();
    }
    return JSON.stringify(v);
  }
  const i = random(text.length + 1), j = Math.min(text.length, i + random(12));
  if (kind === 1) return text.slice(0, i) + pick(["", "{", "}", "[", "]", "\"", ",", ":", "\\u0000", "\\", "1e999", "null", text.slice(j, j + random(200)), String.fromCharCode(random(65536))]) + text.slice(j);
  return pick([text.slice(0, i), text.slice(i), text + text, "[".repeat(random(100000)), text.slice(0, i) + "{\"a\":".repeat(random(3000)) + text.slice(i)]);
}

const text = JSON.stringify(whole);
const end = Date.now() + 1000 * Number(process.argv[2] ?? 3);
let files = 0, taken = 0, last = text;
while (Date.now() < end) {
  const bad = damage(random(4) ? text : last);
  files++;
  let r;
  try {
    r = read(bad, fields);
  } catch (err) {
    console.error("thrown: " + err.stack + "\n" + bad.slice(0, 2000));
    process.exit(1);
  }
  const fail = (why) => { console.error(why + "\n" + bad.slice(0, 2000)); process.exit(1); };
  if (r.why !== undefined ? typeof r.why !== "string" || !r.why || r.lots : !Array.isArray(r.lots)) fail("neither refused nor read");
  if (r.why?.length > 600) fail("a refusal of " + r.why.length + " characters");
  if (r.lots) {
    taken++;
    const again = read(write(r.lots), fields);
    if (JSON.stringify(again.lots) !== JSON.stringify(r.lots)) fail("read again it differs: " + again.why);
    for (const l of r.lots) for (const [k, v] of Object.entries(l.state)) if (!fields.includes(k) || typeof v !== "string") fail("a state with " + k);
    try { JSON.parse(bad); last = bad; } catch { last = text; }
  }
  if ({}.lots !== undefined || Object.prototype.lots) fail("a prototype was written to");
}
console.log(files + " files, " + taken + " of them read");
