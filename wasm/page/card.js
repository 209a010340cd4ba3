// A card for the customer's bag: rest until, best between, a brew guide in
// grams, flavour words as typed; several to a sheet.
import { h } from "./dom.js";
import { t, lang, n } from "./words.js";

const asked = [
  ["name", "Coffee", "As it is to stand on the card"],
  ["restDays", "Rest, days after roasting", "Like 7"],
  ["bestFromDays", "Best from, days after roasting", "Like 10"],
  ["bestToDays", "Best until, days after roasting", "Like 45"],
  ["dose", "Brew guide: coffee, g", "Like 15"],
  ["water", "Brew guide: water, g", "Like 250"],
  ["guide", "Brew guide: how", "In a few words"],
  ["first", "Flavour, first words", "The plain ones, like: fruit, cocoa"],
  ["second", "Flavour, closer words", "The finer ones, like: red plum, cocoa nib"],
  ["copies", "Cards", "How many, like 8"],
];

// offerCard adds the card's form; changed is called with what is typed.
export function offerCard(place, bench, changed) {
  const inputs = {};
  const form = h("div", { class: "card-form" }, ...asked.map(([id, label, hint]) => {
    const e = h("input", { id: "card-" + id, type: "text", autocomplete: "off", "aria-describedby": "card-" + id + "-hint" });
    inputs[id] = e;
    return h("div", { class: "ask" }, h("label", { for: e.id }, t(label)), h("p", { class: "hint", id: e.id + "-hint" }, t(hint)), e);
  }));
  const print = h("button", { type: "button" }, t("Print the cards"));
  const sheet = h("section", { class: "cards", "aria-label": t("Cards"), hidden: true });
  document.querySelector("article").after(sheet);
  const said = h("p", { class: "problem", role: "status" });
  place.append(h("details", { class: "fold" }, h("summary", {}, t("Card for the bag")), form, h("p", {}, print), said));

  const values = () => Object.fromEntries(Object.entries(inputs).map(([k, e]) => [k, e.value]).filter(([, v]) => v));
  let timer;
  for (const [event, pause] of [["input", 400], ["change", 0]]) {
    form.addEventListener(event, () => {
      said.textContent = "";
      clearTimeout(timer);
      timer = setTimeout(() => changed(values()), pause);
    });
  }
  print.addEventListener("click", () => {
    said.textContent = doubt(values(), bench);
    if (said.textContent) return;
    const count = Math.min(Math.max(Math.trunc(Number(inputs.copies.value)) || 8, 1), 200);
    sheet.replaceChildren(...Array.from({ length: count }, () => card(values(), bench.changed())));
    sheet.hidden = false;
    document.documentElement.classList.add("has-cards");
    addEventListener("afterprint", () => {
      document.documentElement.classList.remove("has-cards");
      sheet.hidden = true;
    }, { once: true });
    window.print();
  });
  return {
    show(card) { for (const [k, e] of Object.entries(inputs)) e.value = card[k] ?? ""; },
  };
}

const number = (text) => Number(text.replace(",", "."));

// doubt says why a card would be wrong or lack a date that was asked for.
function doubt(c, bench) {
  const days = asked.filter(([id]) => id.endsWith("Days") && c[id]?.trim());
  const bad = days.find(([id]) => !(number(c[id]) >= 0 && number(c[id]) <= 3650));
  if (bad) return t("{} takes 0 to 3650.", t(bad[1]));
  if (days.length && Number.isNaN(Date.parse(bench.changed().roasted))) return t("The days are counted from the roast: fill in {}.", bench.label("roasted"));
  return number(c.bestToDays || "Infinity") < number(c.bestFromDays || "0") ? t("Best until lies before best from.") : "";
}

function card(c, state) {
  const after = (text) => {
    if (!text?.trim() || !state.roasted) return "";
    const d = new Date(state.roasted);
    d.setDate(d.getDate() + Math.round(number(text)));
    return d.toLocaleDateString(lang, { day: "numeric", month: "long", year: "numeric" });
  };
  const line = (label, text) => text ? h("p", {}, h("span", {}, label + " "), h("strong", {}, text)) : "";
  const from = after(c.bestFromDays), to = after(c.bestToDays);
  const dose = number(c.dose ?? ""), water = number(c.water ?? "");
  const ratio = dose > 0 && water > 0 ? " (1:" + n((water / dose).toFixed(1)) + ")" : "";
  return h("article", { class: "card" },
    h("h2", {}, c.name || state.lot || t("Coffee")),
    c.first ? h("p", { class: "first" }, c.first) : "", c.second ? h("p", {}, c.second) : "",
    line(t("Roasted"), after("0")), line(t("Let it rest until"), after(c.restDays)),
    from && to ? line(t("Best between"), t("{} and {}", from, to)) : line(t("Best from"), from) || line(t("Best until"), to),
    c.dose || c.water ? line(t("Brew with"), t("{} g of coffee, {} g of water", n(c.dose ?? "?"), n(c.water ?? "?")) + ratio) : "",
    c.guide ? h("p", {}, c.guide) : "");
}
