// The npm package in Node, as a program meets it: installed, imported by its
// name. The Go test beside the browser's runs this (wasm/browsertest) and
// hands over what Go answers:
//
//	EVENLOT_WANT=answers.json node --test embed.test.mjs
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import test from "node:test";
import * as evenlot from "evenlot";

const { load, version, languages } = evenlot;
const before = Object.getOwnPropertyNames(globalThis).sort().join();
const { Version, Languages, Answers } = JSON.parse(await readFile(process.env.EVENLOT_WANT, "utf8"));

// alike compares two parts of a sheet: every text to the letter, floats to
// seven digits, for Go's exp and log end differently on another machine and a
// fit ends where its steps become small; uncertainties, differences of such
// floats, to six.
function alike(got, want, at) {
  if (typeof want === "number" && typeof got === "number") {
    assert.ok(Math.abs(got - want) <= (at.endsWith(".u") ? 1e-6 : 1e-7) * Math.abs(want), `${at}: ${got}, not ${want}`);
  } else if (want === null || typeof want !== "object") {
    assert.equal(got, want, at);
  } else {
    assert.deepEqual(Object.keys(got).sort(), Object.keys(want).sort(), at);
    for (const k of Object.keys(want)) alike(got[k], want[k], at + "." + k);
  }
}

// drawn splits what is drawn into words and numbers: the picture of a fitted
// curve shows more digits than the fit has.
const drawn = (figures) => figures.map((f) => (f.svg + JSON.stringify(f.table)).split(/(-?\d+(?:[.,]\d+)?)/).map((x, i) => i % 2 ? Number(x.replace(",", ".")) : x));

function alikeDrawn(got, want) {
  const [a, b] = [drawn(got), drawn(want)];
  assert.equal(a.length, b.length);
  b.forEach((parts, f) => {
    assert.equal(a[f].length, parts.length);
    parts.forEach((x, i) => {
      if (typeof x === "string") assert.equal(a[f][i], x);
      else assert.ok(Math.abs(a[f][i] - x) <= Math.max(0.1, 1e-4 * Math.abs(x)), `figure ${f}: ${a[f][i]}, not ${x}`);
    });
  });
}

test("every calculator answers as Go does, in every language", async (t) => {
  assert.equal(version, Version);
  assert.deepEqual([...languages], Languages);
  assert.ok(Answers.length > 0);
  for (const language of languages) {
    const e = await load({ language });
    for (const { ID, Function, Input, Sheets } of Answers) {
      await t.test(language + " " + ID, async () => {
        const sheet = Sheets[language];
        const r = await e[Function](Input);
        assert.equal(r.ok, true, JSON.stringify(r));
        alike(Object.values(r.values), sheet.values, "values");
        assert.deepEqual(Object.keys(r.values), sheet.values.map((v) => v.id));
        for (const part of ["verdicts", "notes", "working", "tables", "missing"]) alike(r[part], sheet[part] ?? [], part);
        alikeDrawn(r.figures, sheet.figures ?? []);
        assert.equal(r.overall, sheet.overall);
      });
    }
  }
});

test("refusals are objects, all together, by the names of the inputs", async () => {
  const e = await load();
  const r = await e.roomMoisture({ t: 1800, rh: Number.NaN, tPlusMinus: "-1", rhh: 3, mMin: 12, mMax: 10 });
  assert.equal(r.ok, false);
  assert.deepEqual(r.faults.map((f) => [f.field, f.kind]), [["rhh", "unknown"], ["t", "range"], ["rh", "unreadable"]]);
  assert.match(r.faults[1].text, /0 to 70 °C/);
  for (const bad of [{ t: {} }, { t: [18] }, { t: true }, { t: 18n }, { t: () => 1 }]) {
    const r = await e.roomMoisture({ rh: 57, ...bad });
    assert.equal(r.ok, false);
    assert.deepEqual(r.faults.map((f) => [f.field, f.kind]), [["t", "unreadable"]]);
  }
  const pm = await e.roomMoisture({ t: 18, rh: 57, tPlusMinus: 1e6 });
  assert.deepEqual(pm.faults.map((f) => f.field), ["tPlusMinus"]);
  const limits = await e.roomMoisture({ t: 18, rh: 57, mMin: 12, mMax: 10 });
  assert.deepEqual(limits.faults.map((f) => f.field), ["mMax"]);
  assert.deepEqual((await e.roomMoisture()).faults.map((f) => f.kind), ["empty", "empty"]);
  assert.equal((await e.evaluate("no-such-thing", {})).problem, "There is no calculator no-such-thing.");
  await assert.rejects(load({ language: "tlh" }), RangeError);
});

test("without figures an answer is the same", async () => {
  const e = await load();
  for (const ask of [(o) => e.roomMoisture({ t: "18.0", rh: 57 }, o), (o) => e.evaluate("room-moisture", { t: "18.0", rh: "57" }, o)]) {
    const whole = await ask(), bare = await ask({ figures: false });
    assert.ok(whole.figures.length > 0 && bare.working.length > 0);
    assert.deepEqual(bare, { ...whole, figures: [] });
    assert.deepEqual(await ask({}), whole);
  }
});

test("numbers keep their value, strings their digits", async () => {
  const e = await load();
  const f = async (rh) => { const r = await e.roomMoisture({ t: 18, rh }); assert.ok(r.ok, JSON.stringify(r)); return r; };
  const u = (r) => r.values.m.u;
  assert.equal(u(await f(57)), u(await f("57")));
  assert.ok(u(await f("57.0")) < u(await f("57")));
  const same = async (number, text, field) => {
    const a = await e.expectedLoss({ ...field(number) }), b = await e.expectedLoss({ ...field(text) });
    assert.ok(a.ok && b.ok, JSON.stringify([a, b]));
    assert.equal(a.values.l.number, b.values.l.number, String(number));
  };
  const loss = (mr) => ({ mg: 12, mr, d: 6.9 });
  for (const [number, text] of [[2.125, "2.1250"], [2, "2"], [2.1, "2.1"]]) await same(number, text, loss);
  for (const [number, text] of [[1e-7, "0.0000001"], [1.5e-7, "0.00000015"], [-2.5e21, "−2500000000000000000000"], [16.125, "16.125"]]) {
    const r = await e.expectedLoss(loss(number));
    assert.ok(!r.ok && r.faults[0].text.includes(" " + text + " %"), JSON.stringify(r));
  }
  // A typed 1.234 may mean 1234 where that fits too; a number never does.
  const bag = (m) => e.bagHeadspace({ bag: 1200, bulk: 0.37, pore: 34, rho: 0.8, m });
  assert.equal((await bag(1.125)).faults?.[0]?.kind ?? "read", "read");
  assert.equal((await bag(1.125)).read.m, "1.125 g");
  // Limits: ours, one's own, none.
  assert.match((await f(57)).verdicts[0].source, /./);
  assert.equal((await e.roomMoisture({ t: 18, rh: 57, mMax: 11 })).verdicts[0].limit, "10 to 11 %");
  assert.deepEqual((await e.roomMoisture({ t: 18, rh: 57, mMax: null, mMin: null })).verdicts, []);
  // Another unit, another meter.
  const warm = await e.roomMoisture({ t: 64.4, tUnit: "°F", rh: 57 });
  assert.ok(Math.abs(warm.values.m.number - (await f(57)).values.m.number) < 1e-9);
  assert.ok((await e.roomMoisture({ t: 18, rh: 57, rhPlusMinus: 10 })).values.m.u > u(await f(57)));
  assert.deepEqual((await e.evaluate("room-moisture", { t: "18", rh: "57" })).verdicts, []);
  assert.equal(await e.convert("room-moisture", "18.0", "°C", "°C", "°F"), "64.4");
  assert.equal(await e.convert("room-moisture", "18.0", "°C", "°C", "kg"), null);
});

test("a dial turns one number, a solver finds it", async () => {
  const e = await load();
  const d = await e.dial("roomMoisture", { t: "18.0" }, "rh", "m");
  const other = await e.dial("roomMoisture", { rh: "57" }, "t", "m"); // of the same bundle: they take turns
  assert.ok(d.ok && other.ok, JSON.stringify([d, other]));
  assert.deepEqual([d.lo, d.hi], [1, 100]);
  for (const rh of [30, 57, 72.5]) {
    const r = await e.roomMoisture({ t: "18.0", rh });
    assert.equal(d.at(rh), r.values.m.number);
    assert.equal(other.at(18), (await e.roomMoisture({ t: 18, rh: 57 })).values.m.number);
  }
  assert.deepEqual([d.at(0), d.at(101), d.at(Number.NaN)], [null, null, null]);
  const y = d.curve(30, 70, 1001);
  assert.equal(y.length, 1001);
  for (const i of [0, 1, 500, 1000]) assert.equal(y[i], d.at(30 + 40 * (i / 1000)));
  assert.ok(Number.isNaN(d.curve(90, 110, 3)[2]));
  assert.equal(d.curve(30, 70, 1)[0], d.at(30));
  const found = await e.solve("roomMoisture", { t: "18.0" }, "rh", "m", 11);
  assert.ok(found.ok, JSON.stringify(found));
  assert.ok(Math.abs(d.at(Number(found.text)) - 11) < 1e-3, found.text);
  for (const r of [await e.solve("roomMoisture", { t: "18.0" }, "rh", "m", 90), await e.solve("roomMoisture", {}, "rh", "m", 11), await e.solve("noSuch", {}, "rh", "m", 11),
    await e.dial("roomMoisture", {}, "rh", "m"), await e.dial("roomMoisture", { t: 18 }, "rh", "no-such"), await e.dial("roomMoisture", { t: 18, x: 1 }, "rh", "m")]) {
    assert.equal(r.ok, false);
    assert.match(r.why, /./);
  }
});

test("series go as text and as rows", async () => {
  const e = await load();
  const rows = [[12, 10.16], [12, 10.14], ["12.00", "10.17"], [12, 10.125], [12, 10.04]];
  const a = await e.roastSeries({ batches: rows });
  const b = await e.roastSeries({ batches: "12 10.16\n12 10.14\n12.00 10.17\n12 10.1250\n12 10.04" });
  assert.ok(a.ok && b.ok, JSON.stringify([a, b]));
  assert.deepEqual(a.values, b.values);
  const one = await e.repeatReadings({ x: [1.31, 1.33, 1.32] });
  assert.deepEqual(one.rows.map((r) => [r.field, r.good, r.bad]), [["x", 3, 0]]);
  assert.equal((await e.roastSeries({ batches: [[12, {}]] })).faults[0].kind, "unreadable");
  assert.equal((await e.roastSeries({ batches: [["x", "y"]] })).faults[0].kind, "row");
});

test("a date goes as a Date", async () => {
  const e = await load();
  const rest = { use: "filter", level: 20, fresh: 35 };
  const { Input } = Answers.find((a) => a.ID === "rest-window");
  const a = await e.restWindow({ ...Input, roasted: new Date(2026, 9, 21, 9, 30) });
  const b = await e.restWindow({ ...Input, ...rest, roasted: "2026-10-21T09:30" });
  assert.ok(a.ok && b.ok, JSON.stringify([a, b]));
  assert.deepEqual(a.values, b.values);
  assert.equal((await e.restWindow({ ...Input, roasted: new Date(Number.NaN) })).faults[0].kind, "unreadable");
});

test("a panic inside is told, and the next answer is right", async () => {
  const good = await (await load()).roomMoisture({ t: 18, rh: 57 });
  const e = await load();
  const { getTimezoneOffset } = Date.prototype;
  const { instantiate } = WebAssembly;
  let started = 0;
  WebAssembly.instantiate = (...args) => { started++; return instantiate(...args); };
  try {
    Date.prototype.getTimezoneOffset = () => { throw new Error("made to fail"); }; // a bundle asks for it at first: a panic in Go
    const bad = await e.roomMoisture({ t: 18, rh: 57 });
    Date.prototype.getTimezoneOffset = getTimezoneOffset;
    assert.equal(bad.ok, false);
    assert.match(bad.problem, /made to fail/);
    assert.equal(started, 1);
    assert.deepEqual(await e.roomMoisture({ t: 18, rh: 57 }), good);
    assert.equal(started, 2);
  } finally {
    Date.prototype.getTimezoneOffset = getTimezoneOffset;
    WebAssembly.instantiate = instantiate;
  }
});

test("a file that is not there is a problem, and found when it is", async () => {
  const gone = await load({ base: new URL("./no/such/folder/", import.meta.url) });
  const r = await gone.roomMoisture({ t: 18, rh: 57 });
  assert.equal(r.ok, false);
  assert.match(r.problem, /could not be read/);
  await assert.rejects(load({ base: new URL("./no/such/folder/", import.meta.url), language: "es" }));
});

test("a hundred questions at once start a bundle once", async () => {
  const e = await load();
  const { instantiate } = WebAssembly;
  let started = 0;
  WebAssembly.instantiate = (...args) => { started++; return instantiate(...args); };
  try {
    const list = await Promise.all(Array.from({ length: 100 }, (_, i) => e.roomMoisture({ t: 18, rh: 50 + i / 10 })));
    assert.equal(started, 1);
    assert.ok(list.every((r, i) => r.ok && r.read.rh.startsWith(String(50 + i / 10))));
  } finally {
    WebAssembly.instantiate = instantiate;
  }
});

test("nothing is left on globalThis", () => {
  assert.equal(Object.getOwnPropertyNames(globalThis).sort().join(), before);
  assert.deepEqual(Object.keys(evenlot).sort(), ["languages", "load", "version"]);
});
