// The file in which lots travel: its checks, with no page and no database.
// lots.schema.json says the same in JSON Schema.
import { t } from "./words.js";

export const format = "evenlot-lots";
export const version = 1;

const most = { bytes: 20_000_000, lots: 5000, text: 4000, history: 5000, notes: 1000 };
const card = ["name", "restDays", "bestFromDays", "bestToDays", "dose", "water", "guide", "first", "second", "copies"];

// write makes the file's text.
export function write(lots) {
  return JSON.stringify({ format, version, written: new Date().toISOString(), lots }, null, 1) + "\n";
}

class Refused extends Error {
  constructor(pattern, ...args) { super(t(pattern, ...args)); }
}

// read returns {lots} or {why}: the place in the file and what is wrong there.
// Nothing of a file with any fault is taken. fields are the names that a
// lot's state may have.
export function read(text, fields) {
  try {
    if (text.length > most.bytes) throw new Refused("the file is larger than 20 MB");
    let file;
    try {
      file = JSON.parse(text);
    } catch {
      throw new Refused("it is no whole file of lots that this page saved; a CSV is opened in a calculation with a list of readings, with “Open a file”");
    }
    plain(file, t("the file"), ["format", "version", "written", "lots"]);
    if (file.format !== format) throw new Refused("it is no file of lots: its format is {}", show(file.format));
    if (file.version !== version) throw new Refused("its version is {}; this page reads version {}", show(file.version), version);
    if (file.written !== undefined) date(file.written, "written");
    list(file.lots, "lots", most.lots);
    const seen = new Set();
    file.lots.forEach((lot, i) => {
      const at = "lots[" + i + "]";
      plain(lot, at, ["id", "rev", "created", "changed", "state", "history", "notes", "card"]);
      string(lot.id, at + ".id", 64);
      if (!/^[A-Za-z0-9-]{8,64}$/.test(lot.id)) throw new Refused("{} is {}", at + ".id", show(lot.id));
      if (seen.has(lot.id)) throw new Refused("{} stands twice", at + ".id");
      seen.add(lot.id);
      if (!Number.isSafeInteger(lot.rev) || lot.rev < 0) throw new Refused("{} is {}", at + ".rev", show(lot.rev));
      date(lot.created, at + ".created");
      date(lot.changed, at + ".changed");
      strings(lot.state, at + ".state", fields);
      if (lot.card !== undefined) strings(lot.card, at + ".card", card);
      if (lot.history !== undefined) list(lot.history, at + ".history", most.history);
      lot.history?.forEach((x, j) => entry(x, at + ".history[" + j + "]", ["at", "by", "field", "to"]));
      if (lot.notes !== undefined) list(lot.notes, at + ".notes", most.notes);
      lot.notes?.forEach((x, j) => entry(x, at + ".notes[" + j + "]", ["at", "by", "text"]));
    });
    return { lots: file.lots.map((l) => ({ card: {}, history: [], notes: [], ...l })) };
  } catch (err) {
    if (err instanceof Refused) return { why: err.message };
    throw err;
  }
}

// show is a value short enough to repeat; what it holds may be deep.
const show = (v) => Array.isArray(v) ? "[…]" : v !== null && typeof v === "object" ? "{…}"
  : (JSON.stringify(typeof v === "string" ? v.slice(0, 60) : v) ?? t("missing")).slice(0, 60);

function plain(v, at, keys) {
  if (v === null || typeof v !== "object" || Array.isArray(v)) throw new Refused("{} is {}, not an object", at, show(v));
  for (const k of Object.keys(v)) if (!keys.includes(k)) throw new Refused("{} has an unknown {}", at, show(k));
}

function list(v, at, longest) {
  if (!Array.isArray(v)) throw new Refused("{} is {}, not a list", at, show(v));
  if (v.length > longest) throw new Refused("{} has more than {} entries", at, longest);
}

function string(v, at, longest = most.text) {
  if (typeof v !== "string") throw new Refused("{} is {}, not a text", at, show(v));
  if (v.length > longest) throw new Refused("{} is longer than {} characters", at, longest);
}

function date(v, at) {
  string(v, at, 40);
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)$/.test(v) || Number.isNaN(Date.parse(v))) throw new Refused("{} is {}, not a date", at, show(v));
}

function strings(v, at, keys) {
  plain(v, at, keys);
  for (const [k, s] of Object.entries(v)) string(s, at + "." + k);
}

function entry(v, at, keys) {
  strings(v, at, keys);
  date(v.at, at + ".at");
}

// point writes a number with a decimal point and no thousands signs. One comma
// before just three digits may be either: it stays as typed.
function point(text) {
  const s = text.replace(/(\d)[\s'’](?=\d{3})/g, "$1"), signs = s.match(/[.,]/g) ?? [], last = signs.at(-1);
  if (signs.length > 1) return s.replaceAll(signs[0], "").replace(last, ".");
  return /^-?[1-9]\d{0,2},\d{3}$/.test(s) ? s : s.replace(",", ".");
}

// points does so for the rows of a list, where commas do not part the cells.
const points = (text, columns) => text.split("\n").map((row) => /[\t;]/.test(row) || !row.includes(".") && (columns < 2 || row.includes(" ")) ? row.replace(/(\d),(?=\d)/g, "$1.") : row).join("\n");

// csv is the readings of lots, one row a lot, for a spreadsheet: what stands in
// each field, and what usually stands there where a lot says nothing else. head
// says of a field {label, number, columns}: what stands over its column, before
// its name in brackets, and whether it holds a number or rows of some, which get
// a decimal point. A cell that a spreadsheet would take for a formula gets an
// apostrophe.
export function csv(lots, fields, usual, head) {
  const heads = fields.map(head);
  const cell = (s) => {
    let c = String(s ?? "");
    if (/^[=+@\t\r\n]|^-(?![\d.,]+$)/.test(c)) c = "'" + c;
    return /[",;\n\r]/.test(c) ? '"' + c.replace(/"/g, '""') + '"' : c;
  };
  const said = (text = "", { number, columns }) => number ? point(text) : columns ? points(text, columns) : text;
  const rows = [["id", "created", "changed", ...fields.map((f, i) => heads[i].label + " [" + f + "]")]];
  for (const l of lots) rows.push([l.id, l.created, l.changed, ...fields.map((f, i) => said(l.state[f] ?? usual[f], heads[i]))]);
  return rows.map((r) => r.map(cell).join(",")).join("\r\n") + "\r\n";
}
