import { t as say } from "./words.js";

// h makes an element: attributes, then children; a string child is text.
export function h(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) if (v !== undefined && v !== false) e.setAttribute(k, v === true ? "" : v);
  e.append(...children.filter((c) => c !== undefined && c !== "" && c !== null));
  return e;
}

// drawn parses markup made in Go, where every text in it is escaped.
export function drawn(markup) {
  const t = document.createElement("template");
  t.innerHTML = markup;
  return t.content;
}

// settle makes parts the children of a place: each is [of, make], what it shows
// and how to make it. One that shows what stands there already, wherever, is not
// made: less to build and to lay out. What was unfolded stays so: a new part looks
// at the next of its kind that goes.
export function settle(place, parts) {
  const stand = new Map(); // what stands there, by what it shows
  for (const e of place.children) stand.set(e.shows, [...stand.get(e.shows) ?? [], e]);
  const shows = parts.map(([of]) => JSON.stringify(of)), stays = shows.map((s) => stand.get(s)?.shift());
  const goes = new Set([...stand.values()].flat());
  const folds = (e) => [...e.matches("details") ? [e] : [], ...e.querySelectorAll("details")];
  for (const e of goes) e.remove();
  let at = place.firstElementChild;
  parts.forEach(([, make], i) => {
    let part = stays[i];
    if (!part) {
      part = make();
      part.shows = shows[i];
      const old = [...goes].find((e) => e.localName === part.localName);
      goes.delete(old);
      if (old) folds(part).forEach((d, k) => { d.open = folds(old)[k]?.open ?? d.open; });
    }
    if (part === at) at = at.nextElementSibling;
    else place.insertBefore(part, at);
  });
}

export function table(t) {
  const head = h("thead", {}, h("tr", {}, ...(t.head ?? []).map((c) => h("th", { scope: "col" }, c))));
  const body = h("tbody", {}, ...(t.rows ?? []).map((r) => h("tr", {}, ...r.map((c) => h("td", {}, c)))));
  return h("div", { class: "scroll", tabindex: "0", role: "region", "aria-label": t.title || say("Table") }, h("table", {}, t.title ? h("caption", {}, t.title) : "", head, body));
}

// The verdicts' shapes: a word and a shape, never colour alone.
const shapes = {
  "in": '<circle cx="16" cy="16" r="12"/><path d="M9 16.5l5 5 9-11"/>',
  "out": '<path class="solid" d="M16 1L31 16 16 31 1 16z"/>',
  "too close to call": '<path d="M4 4h24v24H4z"/><path class="solid" d="M4 28V4l24 24z"/>',
  "release": '<circle cx="16" cy="16" r="12"/><path d="M9 16.5l5 5 9-11"/>',
  "hold": '<path class="solid" d="M16 1L31 16 16 31 1 16z"/>',
  "measure again": '<path d="M4 4h24v24H4z"/><path class="solid" d="M4 28V4l24 24z"/>',
  "not complete": '<path stroke-dasharray="5 4" d="M4 4h24v24H4z"/>',
  "missing": '<path stroke-dasharray="5 4" d="M4 4h24v24H4z"/>',
};
const cut = {}; // each once parsed
export function shape(word) {
  cut[word] ??= drawn('<svg class="shape" viewBox="0 0 32 32" aria-hidden="true" focusable="false">' + (shapes[word] ?? shapes.missing) + "</svg>");
  return cut[word].cloneNode(true);
}
