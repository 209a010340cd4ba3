// The bundle: started once, asked through plain strings. It runs in the page
// and, for long series, in a worker.
import { t } from "./words.js";

let starting;
let place; // {root, bundle, table, comma}

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
  const source = place.root + place.bundle + ".wasm";
  let made;
  try {
    made = await WebAssembly.instantiateStreaming(fetch(source), go.importObject);
  } catch {
    const answer = await fetch(source); // a server that does not know application/wasm
    if (!answer.ok) throw new Error(t("The calculator's file could not be read ({}).", answer.status));
    made = await WebAssembly.instantiate(await answer.arrayBuffer(), go.importObject);
  }
  go.run(made.instance).then(() => { starting = undefined; });
  await ready;
  if (place.comma) globalThis.evenlot.speak(place.table, true);
  return globalThis.evenlot;
}

// ask calls one function of the bundle; a panic inside restarts it and comes
// back as {problem}.
export async function ask(verb, ...args) {
  const e = await engine();
  let answer;
  try {
    answer = e[verb](...args);
  } catch (err) {
    answer = { panic: String(err) };
  }
  if (answer && answer.panic !== undefined) {
    starting = undefined;
    return { problem: t("This calculation failed inside ({}). What was typed is kept; the calculator was started anew.", answer.panic) };
  }
  return verb === "evaluate" && typeof answer === "string" ? JSON.parse(answer) : answer;
}
