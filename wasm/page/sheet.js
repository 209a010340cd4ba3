// A sheet as the page shows it.
import { h, drawn, settle, shape, table } from "./dom.js";
import { t, n } from "./words.js";

export const upper = (s) => s[0].toUpperCase() + s.slice(1);

export const quantity = (v) => [v.text, v.plusMinus && " ± " + v.plusMinus, v.unit && " " + v.unit].filter(Boolean).join("");

// worst is the verdict that decides: out before too close before in, the
// answer's own before another's.
const order = ["out", "too close to call", "in"];
export function worst(sheet) {
  const own = (j) => j.output === sheet.values[0].id;
  return [...sheet.verdicts ?? []].sort((a, b) => order.indexOf(a.word) - order.indexOf(b.word) || own(b) - own(a))[0];
}

// judged is the answer's verdict in a few words, and a worse one with the name
// of what that judges.
export function judged(sheet) {
  const own = sheet.verdicts?.find((j) => j.output === sheet.values[0].id), bad = worst(sheet);
  return [own && t(own.word), bad && bad !== own && (!own || bad.word !== own.word) && bad.label + ": " + t(bad.word)].filter(Boolean).join("; ");
}

// spoken is the answer in one sentence, for a live region.
export function spoken(sheet) {
  if (sheet.overall) return upper(t(sheet.overall)) + ". " + (sheet.reason ?? "");
  if (sheet.problem) return sheet.problem;
  const v = sheet.values?.[0];
  if (!v) return "";
  return [v.label + ": " + quantity(v).replace("±", t("plus or minus")), judged(sheet)].filter(Boolean).join("; ");
}

const value = (v, first) => [[v.id, v.label, v.text, v.plusMinus, v.unit, v.number, first && v.shares], () => {
  const box = h("div", { class: "value" + (first ? " first" : ""), "data-value": v.id });
  box.append(h("p", { class: "what" }, v.label));
  box.append(h("p", { class: "much" + (v.number == null ? " words" : ""), "data-number": v.number ?? "" }, v.text,
    v.plusMinus ? h("span", { class: "pm" }, " ± " + v.plusMinus) : "", v.unit ? h("span", { class: "unit" }, " " + v.unit) : ""));
  if (first && v.shares?.length && v.plusMinus) {
    const top = v.shares[0];
    box.append(h("p", { class: "due" }, v.shares.length < 2 ? t("The ± is two standard uncertainties; all of it comes from: {}.", top.label)
      : top.pct >= 99.5 ? t("The ± is two standard uncertainties; nearly all of it comes from: {}.", top.label)
        : t("The ± is two standard uncertainties; the largest part, {} % of the variance, comes from: {}.", Math.round(top.pct), top.label)));
  }
  return box;
}];

const verdict = (j, caution, whole) => [[j, caution, whole], () => {
  const box = h("div", { class: "verdict", "data-verdict": j.output });
  box.append(shape(j.word));
  const say = h("div", {});
  say.append(h("span", { class: "word" }, upper(t(j.word))));
  const chance = j.inPct >= 0.05 && j.inPct < 99.95;
  if (whole) say.append(h("p", {}, chance ? t("Judged by {}; the chance of being in is {} %.", j.limit, n(Math.round(j.inPct * 10) / 10)) : t("Judged by {}.", j.limit)));
  else say.append(h("p", {}, chance ? t("{}, judged by {}; the chance of being in is {} %.", j.label, j.limit, n(Math.round(j.inPct * 10) / 10)) : t("{}, judged by {}.", j.label, j.limit)));
  if (j.maxPlusMinus) say.append(h("p", {}, t("It could be called with a ± of {} or less.", j.maxPlusMinus)));
  if (j.source) say.append(h("p", { class: "hint" }, t("Limit: {}.", j.source)));
  if (caution) say.append(h("p", { class: "hint" }, caution));
  box.append(say);
  return box;
}];

// answer fills the place of the answer: values and verdicts.
export function answer(place, sheet) {
  const parts = [], cautions = new Set();
  if (sheet.problem) parts.push([sheet.problem, () => h("p", { class: "problem" }, sheet.problem)]);
  const groups = [...new Set([...(sheet.values ?? []).map((v) => v.group ?? ""), ...(sheet.missing ?? []).map((m) => m.group)])];
  if (sheet.overall) {
    parts.push([[sheet.overall, sheet.reason], () => {
      const box = h("div", { class: "verdict overall", "data-verdict": "overall" });
      box.append(shape(sheet.overall), h("div", {}, h("span", { class: "word" }, upper(t(sheet.overall))), h("p", {}, sheet.reason)));
      return box;
    }]);
  }
  for (const r of sheet.rows ?? []) {
    if (r.bad && sheet.values) parts.push([["unread", r.good, r.bad], () => h("p", { class: "problem" }, t("{} of {} rows could not be read and do not count.", r.bad, r.good + r.bad))]);
  }
  let first = !sheet.overall;
  for (const g of groups) {
    if (g) parts.push([g, () => h("h3", { class: "group" }, g)]);
    for (const v of (sheet.values ?? []).filter((x) => (x.group ?? "") === g)) {
      parts.push(value(v, first));
      first = false;
      for (const j of (sheet.verdicts ?? []).filter((x) => x.output === v.id)) { // right behind what it judges
        parts.push(verdict(j, cautions.has(j.caution) ? "" : j.caution, Boolean(sheet.overall)));
        cautions.add(j.caution); // once in an answer, by its first verdict
      }
    }
    for (const m of (sheet.missing ?? []).filter((x) => x.group === g)) {
      parts.push([m, () => {
        const box = h("div", { class: "verdict", "data-verdict": "missing" });
        box.append(shape("missing"), h("div", {}, h("span", { class: "word" }, t("Missing")), h("p", {}, m.what)));
        return box;
      }]);
    }
  }
  settle(place, parts);
}

// behind fills the place of what belongs to an answer: notes, rows that were
// not read, figures, tables.
export function behind(place, sheet) {
  const parts = [];
  if (sheet.notes) parts.push([sheet.notes, () => h("ul", { class: "notes" }, ...sheet.notes.map((n) => h("li", {}, n)))]);
  for (const r of sheet.rows ?? []) {
    if (r.faults) parts.push([r, () => h("details", { class: "fold" }, h("summary", {}, t("{} rows read, others not", r.good)), h("ul", {}, ...r.faults.map((f) => h("li", {}, f))))]);
  }
  for (const f of sheet.figures ?? []) {
    parts.push([f, () => {
      const fig = h("figure", {});
      fig.append(drawn(f.svg));
      fig.append(h("details", { class: "fold" }, h("summary", {}, t("The numbers of this picture")), table({ ...f.table, title: f.table.title || fig.querySelector("svg > title")?.textContent })));
      return fig;
    }]);
  }
  for (const t of sheet.tables ?? []) parts.push([t, () => table(t)]);
  settle(place, parts);
}

// steps lets a line of working break before its equals signs: browsers do
// not break a formula by themselves, and paper does not scroll.
export function steps(mathml) {
  const all = drawn(mathml), math = all.querySelector("math"), row = math?.querySelector("mrow");
  if (row?.parentElement !== math) return all;
  math.removeAttribute("display");
  math.setAttribute("displaystyle", "true");
  const signs = [...row.children].filter((e) => e.localName === "mo" && e.textContent === "=");
  for (const sign of signs.slice(1).reverse()) {
    const next = math.cloneNode(), rest = row.cloneNode();
    while (sign.nextSibling) rest.append(sign.nextSibling);
    rest.prepend(sign);
    next.append(rest);
    math.after(" ", next);
  }
  return all;
}

// fit marks the formulas that are too long for a line of paper at the size in
// which the others are printed.
export function fit(place) {
  for (const m of place.querySelectorAll("math")) m.classList.toggle("long", m.getBoundingClientRect().width > 60 * parseFloat(getComputedStyle(m).fontSize));
}

// working fills the place of the working.
export function working(place, sheet) {
  if (!sheet.working?.length) return;
  settle(place, sheet.working.map((l) => [l, () => {
    const d = h("div", { class: "line", tabindex: "0", role: "group", "aria-label": t("Line of working") });
    d.append(steps(l.mathml));
    return d;
  }]));
}
