// The bundle: started once, asked through plain strings. It runs in the page
// and, for long series, in a worker.
import { t } from "./words.js";

let starting;
let place; // {root, bundle, words, comma}; words may still be on their way

// begin says where the bundle is and in which language it answers.
export function begin(where) { place = where; }

// engine resolves with the functions of the bundle.
export function engine() {
  starting ??= start();
  return starting;
}

async function start() {
  const ready = new Promise((done) => { globalThis.evenlotReady = done; });
  const go = new globalThis.Go();
  go.env.GOGC = "400"; // some 10 MB more, for a fourth of the pauses in which a key waits
  const made = await compressed(go.importObject) ?? await whole(go.importObject);
  go.run(made.instance).then(() => { starting = undefined; });
  await ready;
  if (place.comma) globalThis.evenlot.speak(flat(await place.words), true);
  extents.forEach((verb, all) => { globalThis.evenlot[verb] = teller(made.instance.exports, all); });
  return globalThis.evenlot;
}

// How much of a sheet is asked for: what a key shows, all but the figures, all.
const extents = ["brief", "worked", "evaluate"];

// teller asks through the memory of the bundle.
function teller({ mem, room, sheet }, all) {
  const write = new TextEncoder(), read = new TextDecoder();
  return (id, state) => {
    const question = write.encode(id + "\u0001" + state);
    const at = room(question.length); // may make the memory grow, and its buffer another
    new Uint8Array(mem.buffer, at, question.length).set(question);
    const length = sheet(question.length, all);
    return length < 0 ? globalThis.evenlot.lapse() : read.decode(new Uint8Array(mem.buffer, room(0), length));
  };
}

// compressed takes the bundle's compressed copy: small from any server, and
// the one that is kept for use without a network. It is undefined where the
// browser or the server will not have it.
async function compressed(imports) {
  if (!("DecompressionStream" in globalThis)) return undefined;
  try {
    const answer = await fetch(place.root + place.bundle + ".wasm.gz");
    if (!answer.ok) return undefined;
    const again = answer.clone();
    try {
      const plain = answer.body.pipeThrough(new DecompressionStream("gzip"));
      return await WebAssembly.instantiateStreaming(new Response(plain, { headers: { "Content-Type": "application/wasm" } }), imports);
    } catch {
      return await WebAssembly.instantiate(await again.arrayBuffer(), imports); // the server has decompressed it already
    }
  } catch {
    return undefined;
  }
}

async function whole(imports) {
  const source = place.root + place.bundle + ".wasm";
  try {
    return await WebAssembly.instantiateStreaming(fetch(source), imports);
  } catch {
    const answer = await fetch(source); // a server that does not know application/wasm
    if (!answer.ok) throw new Error(t("The calculator's file could not be read ({}).", answer.status));
    return WebAssembly.instantiate(await answer.arrayBuffer(), imports);
  }
}

// flat writes an object of strings as the one string that the bundle reads.
const clean = (s) => s.replaceAll("\u0001", "");
const flat = (o) => Object.entries(o).map(([k, v]) => clean(k) + "\u0001" + clean(v) + "\u0001").join("");

// ask calls one function of the bundle; a panic inside restarts it and comes
// back as {problem}.
export async function ask(verb, ...args) {
  const e = await engine();
  let answer;
  try {
    answer = e[verb](...args.map((a) => a !== null && typeof a === "object" ? flat(a) : a));
  } catch (err) {
    answer = { panic: String(err) };
  }
  if (answer && answer.panic !== undefined) {
    starting = undefined;
    return { problem: t("This calculation failed inside ({}). What was typed is kept; the calculator was started anew.", answer.panic) };
  }
  return extents.includes(verb) && typeof answer === "string" ? JSON.parse(answer) : answer;
}
