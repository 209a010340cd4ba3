// Columns of a file: which there are, which are wanted, and each line with the
// wanted ones alone. No page here: the worker uses it too.

// guess looks at the first lines of a file: what parts the cells, whether the
// first line is a heading, and which column fits which of the wanted.
export function guess(head, wanted, units = []) {
  const rows = head.split(/\r?\n/).filter((l) => l.trim() && !l.startsWith("#")).slice(0, 50);
  const sep = ["\t", ";", ","].find((s) => rows.length && rows.slice(0, 5).every((r) => cells(r, s).length >= Math.max(2, wanted.length) && cells(r, s).length === cells(rows[0], s).length))
    ?? ["\t", ";", ","].find((s) => s !== "," && rows.some((r) => r.includes(s))) ?? (wanted.length > 1 ? " " : "");
  const first = cells(rows[0] ?? "", sep);
  const heading = first.some((c) => /\p{L}/u.test(c)) && !first.some((c) => /^[-+−]?[\d.,]+$/.test(c));
  const names = first.map((c, i) => heading && c ? c : "#" + (i + 1));
  // By words that a heading shares with what is wanted, else in order.
  const used = new Set();
  const choice = wanted.map((w, k) => {
    const words = w.toLowerCase().split(/[^\p{L}\d]+/u).filter((x) => x.length > 1);
    let best = -1, score = 0;
    names.forEach((n, i) => {
      if (used.has(i)) return;
      let s = heading ? words.filter((x) => n.toLowerCase().includes(x)).length : 0;
      // Time is told by its name, or by the dates below it.
      if (per[units[k]]) s += (heading && clock.test(n) ? 1 : 0) + (moment.test(cells(rows[heading ? 1 : 0] ?? "", sep)[i] ?? "") ? 2 : 0);
      if (s > score) { best = i; score = s; }
    });
    if (best >= 0) used.add(best);
    return best;
  });
  choice.forEach((c, i) => {
    if (c >= 0) return;
    const free = names.findIndex((_, j) => !used.has(j) && j >= (heading ? 0 : i));
    choice[i] = free;
    used.add(free);
  });
  return { sep, heading, names, choice };
}

export function cells(line, sep) {
  if (sep === "" ) return [line.trim()];
  if (sep === " ") return line.trim().split(/\s+/);
  if (!line.includes('"')) return line.split(sep).map((c) => c.trim());
  const out = [];
  let cell = "", quoted = false;
  for (let i = 0; i < line.length; i++) {
    const c = line[i];
    if (quoted) {
      if (c === '"' && line[i + 1] === '"') { cell += '"'; i++; } else if (c === '"') quoted = false; else cell += c;
    } else if (c === '"') quoted = true;
    else if (c === sep) { out.push(cell.trim()); cell = ""; } else cell += c;
  }
  out.push(cell.trim());
  return out;
}

const clock = /time|date|hour|stamp|hora|fecha|tiempo/i;
const moment = /^(\d{4})-(\d\d)-(\d\d)[T ](\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?(Z|[+-]\d\d:?\d\d)?$/;
const per = { s: 1e3, min: 6e4, h: 36e5, d: 864e5 };

// take makes the function that turns a line into its wanted cells, parted by
// tabs. Where a column of time holds dates, they become time since the first.
export function take(plan) {
  let first, line = 0;
  return (text) => {
    line++;
    if (!text.trim() || text.startsWith("#") || line === 1 && plan.heading) return "#";
    const c = cells(text, plan.sep);
    return plan.choice.map((i, k) => {
      let v = i < 0 ? "" : c[i] ?? "";
      const m = per[plan.units[k]] && moment.exec(v);
      if (m) {
        const at = Date.parse(v.replace(" ", "T") + (m[7] ? "" : "Z"));
        // 30 February, which the browser would move into March, is no date.
        if (!Number.isNaN(at) && new Date(Date.UTC(+m[1], +m[2] - 1, +m[3])).getUTCDate() === +m[3]) {
          first ??= at;
          v = String((at - first) / per[plan.units[k]]);
        }
      }
      return plan.choice.length > 1 ? v.replace(/[\t ]/g, "") : v;
    }).join("\t");
  };
}

// encoding looks at how a file's characters are written: loggers and
// spreadsheets do not all write UTF-8.
export async function encoding(file) {
  const b = new Uint8Array(await file.slice(0, 20_000).arrayBuffer());
  if (b[0] === 0xff && b[1] === 0xfe) return "utf-16le";
  if (b[0] === 0xfe && b[1] === 0xff) return "utf-16be";
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(b, { stream: true }); // its last character may be cut
    return "utf-8";
  } catch {
    return "windows-1252";
  }
}

// lines reads a file in blocks of whole lines.
export async function* lines(file) {
  const kind = await encoding(file), width = kind.startsWith("utf-16") ? 2 : 1;
  const reader = file.stream().pipeThrough(new TextDecoderStream(kind)).getReader();
  let rest = "", read = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    rest += value;
    read += width * value.length;
    if (rest.length < 262144) continue;
    const end = rest.lastIndexOf("\n");
    if (end < 0) {
      if (rest.length > 4_000_000) throw new Error("a line is longer than 4 MB");
      continue;
    }
    yield { lines: rest.slice(0, end).split(/\r?\n/), read };
    rest = rest.slice(end + 1);
  }
  if (rest) yield { lines: rest.split(/\r?\n/), read };
}
