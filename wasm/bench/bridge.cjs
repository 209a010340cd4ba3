// Times answers of the store's bundle beside the same formula written in
// JavaScript by hand, which gives the number alone: no uncertainty, no
// verdict, no working, no figure.
require("./wasm_exec.js");
const fs = require("fs");

const roa = (t, rh) => {
  const a = rh / 100;
  const x = a * (61.030848 + a * (-108.37141 + a * 74.46105)) * Math.exp(a * (-0.037049 + a * (0.070114 - 0.035177 * a)) * t);
  return (100 * x) / (100 + x);
};

let sink = 0;
const cost = f => {
  const round = n => {
    const start = process.hrtime.bigint();
    for (let i = 0; i < n; i++) f(i);
    return Number(process.hrtime.bigint() - start);
  };
  let n = 1;
  for (let i = 0; i < 5; i++) round(20); // compiled by now
  while (round(n) < 2e5) n *= 2;
  let best = Infinity;
  for (let i = 0, start = Date.now(); i < 20 || i < 500 && Date.now() - start < 5000; i++) best = Math.min(best, round(n) / n);
  return best;
};
const text = v => v < 1e3 ? v.toPrecision(3) + " ns" : v < 1e6 ? (v / 1e3).toPrecision(3) + " µs" : (v / 1e6).toPrecision(3) + " ms";
const row = (what, ours, bare) => console.log([what, text(ours), text(bare), (ours / bare).toPrecision(2)].join("\t"));

(async () => {
  const go = new Go();
  go.env.GOGC = "400"; // as the page does
  const { instance } = await WebAssembly.instantiate(fs.readFileSync("store.wasm"), go.importObject);
  const ready = new Promise(done => { globalThis.evenlotReady = done; });
  go.run(instance);
  await ready;
  const flat = o => Object.entries(o).map(([k, v]) => k + "\u0001" + v + "\u0001").join("");
  const { mem, room, sheet } = instance.exports, write = new TextEncoder(), read = new TextDecoder();
  const ask = (id, state, all) => { // as the page and the module do
    const question = write.encode(id + "\u0001" + flat(state));
    const at = room(question.length); // may make the memory grow, and its buffer another
    new Uint8Array(mem.buffer, at, question.length).set(question);
    const length = sheet(question.length, all);
    const answer = JSON.parse(read.decode(new Uint8Array(mem.buffer, room(0), length)));
    if (answer.faults?.length || answer.problem) throw new Error(JSON.stringify(answer).slice(0, 500));
    return answer;
  };
  const [brief, worked, whole] = [0, 1, 2];
  const given = ask("room-moisture", { t: "18.0", rh: "57" }, whole).values.find(v => v.id === "m").number;
  if (!(Math.abs(given - roa(18, 57)) < 1e-9)) throw new Error(`${given} here, ${roa(18, 57)} by hand`);
  const js = cost(i => { sink += roa(18 + (i & 7) / 8, 57); });
  // Each asks for something else than the one before, as keys do: what stands
  // as it was is not read again.
  let turn = 0;
  const humidity = () => String(50 + turn++ % 10);
  const one = (all) => cost(() => { sink += ask("room-moisture", { t: "18.0", rh: humidity(), "m-min": "10", "m-max": "12" }, all).values.length; });
  row("one sheet while typing: reading, answer, uncertainty, verdict", one(brief), js);
  row("one whole sheet: the same with shares of all uncertainties, working, notes, readings", one(worked), js);
  row("the same and its figure, drawn, with the table behind it", one(whole), js);

  // A thousand readings in one crossing: a logger's record, with its picture.
  const rows = [];
  for (let i = 0; i < 1000; i++) rows.push(`${i} ${(18 + Math.sin(i / 4)).toFixed(1)} ${(57 + 4 * Math.sin(i / 24)).toFixed(1)}`);
  const state = { log: rows.join("\n"), lt: "12", ht: "20", lr: "50", hr: "62", gap: "12" };
  const thousand = cost(() => {
    for (const line of state.log.split("\n")) { // read as a page would, then computed
      const [, t, rh] = line.split(" ").map(Number);
      sink += roa(t, rh);
    }
  });
  row("a record of a thousand rows in one crossing, with figure", cost(() => {
    sink += ask("store-log", { ...state, log: state.log.slice(0, -4) + humidity() }, whole).values.length;
  }), thousand);

  // A number while a slider moves, and a curve.
  const range = evenlot.aim("room-moisture", flat({ t: "18.0", rh: "57" }), "t", "m");
  const { number } = instance.exports;
  if (!(range.lo < 18) || number(18) !== given) throw new Error(`the dial says ${number(18)}`);
  row("one number, the dial at another value", cost(i => { sink += number(18 + (i & 7) / 8); }), js);
  const y = new Float64Array(1000), bytes = new Uint8Array(y.buffer);
  row("a curve of a thousand in one crossing", cost(() => { evenlot.curve(10, 30, bytes); sink += y[999]; }), cost(() => {
    for (let i = 0; i < 1000; i++) y[i] = roa(10 + 20 * i / 999, 57);
    sink += y[999];
  }));
  if (!Number.isFinite(sink)) process.exit(1);
  process.exit(0);
})().catch(err => { console.error(err); process.exit(1); });
