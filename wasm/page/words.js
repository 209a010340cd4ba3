// The page's words in the reader's language. English is the key; the other
// languages are tables beside it.
const page = globalThis.document?.documentElement; // none in a worker
const root = page?.dataset.root;
export const lang = page?.lang ?? "en";
export const comma = lang !== "en";

let table = {};

// learn fetches the table of every page and that of a bundle; without them the
// words stay English.
export async function learn(bundle) {
  if (lang === "en") return table;
  const get = async (name) => {
    const answer = await fetch(new URL(root + name + ".json", location.href));
    return answer.ok ? answer.json() : {};
  };
  table = Object.assign({}, ...await Promise.all([lang, ...bundle ? [lang + "-" + bundle] : []].map(get)));
  return table;
}

// t says a pattern in the reader's language; {} takes the next of args.
export function t(english, ...args) {
  let i = 0;
  return (table[english] ?? english).replace(/\{(\d?)\}/g, (_, n) => args[n ? n - 1 : i++] ?? "");
}

// n writes a number with the reader's decimal sign.
export const n = (text) => comma ? String(text).replace(/(\d)\.(?=\d)/g, "$1,") : String(text);
