// The bundle: started once, asked through plain strings.
import { learn, comma, t } from "./words.js";

const root = () => document.documentElement.dataset.root;

let starting;

// engine resolves with the functions of the bundle.
export function engine() {
  starting ??= start();
  return starting;
}

async function start() {
  const table = await learn();
  const ready = new Promise((done) => { globalThis.evenlotReady = done; });
  const go = new globalThis.Go();
  const source = new URL(root() + document.querySelector("[data-bundle]").dataset.bundle + ".wasm", location.href);
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
  if (comma) globalThis.evenlot.speak(table, true);
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
