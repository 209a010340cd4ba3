// The lots of this device: kept in the browser's own database, shared by all
// its windows, saved to and read from one file.
import { openDB } from "./vendor/idb.js";
import { h } from "./dom.js";
import { t, lang } from "./words.js";
import { read, write, csv } from "./lotfile.js";
import { base, last, keepLast, draft, keepDraft, noter, keepNoter } from "./store.js";
import { offerCard } from "./card.js";

const now = () => new Date().toISOString();
const fresh = (state) => ({ id: crypto.randomUUID(), rev: 0, created: now(), changed: now(), state, card: {}, history: [], notes: [] });
const name = (lot) => lot.state.lot?.trim() || t("Lot without a name");
const when = (iso) => new Date(iso).toLocaleString(lang, { dateStyle: "medium", timeStyle: "short" });

const alike = (a, b) => Boolean(a && b) && [...Object.keys(a), ...Object.keys(b)].every((k) => (a[k] ?? "") === (b[k] ?? ""));

// holdLots puts the list of lots above the form. bench is {put, changed,
// label, names, usual, head}: set the form, what in it differs from an empty one,
// a field's label, the names of all fields, what usually stands in them, what
// stands over a field's column. It returns the function to call when the
// form changed, and the one that says whether the form was filled from a lot.
export async function holdLots(bench, linked) {
  const place = document.getElementById("lots");
  const said = h("p", { class: "bar", role: "status", hidden: true });
  const say = (...parts) => { said.replaceChildren(...parts); said.hidden = !parts.length; };
  place.append(said);

  let db;
  try {
    db = await openDB(base + "lots", 1, {
      upgrade(d) { d.createObjectStore("lots", { keyPath: "id" }); },
      blocking() { db.close(); say(t("A newer version of this page is open in another window. Reload this one.")); },
    });
  } catch (err) {
    say(t("This browser does not let the page keep lots ({}). What is typed stays on the page: print it, or copy its link.", err.message));
    return () => {};
  }
  const channel = "BroadcastChannel" in window ? new BroadcastChannel(base + "lots") : null;

  let lot = fresh({});
  let stored = false; // is it in the database?
  let unsaved = false; // does the form hold what the database would not take?
  let timer; // runs from a key until its save
  const pick = h("select", { id: "lot-pick" });
  const by = h("input", { id: "lot-by", type: "text", autocomplete: "name", value: noter() });
  by.addEventListener("input", () => keepNoter(by.value));
  const note = h("input", { id: "lot-note", type: "text", autocomplete: "off" });
  const past = h("div", {});
  const button = (text, act) => { const b = h("button", { type: "button" }, text); b.addEventListener("click", act); return b; };

  const list = async () => {
    const lots = (await db.getAll("lots")).sort((a, b) => b.changed.localeCompare(a.changed));
    pick.replaceChildren(...(stored ? [] : [h("option", { value: lot.id }, t("New lot, nothing typed yet"))]),
      ...lots.map((l) => h("option", { value: l.id }, name(l) + ", " + when(l.changed))));
    pick.value = lot.id;
  };
  const tell = () => {
    const rows = [...lot.notes.map((x) => ({ ...x, what: x.text })), ...lot.history.map((x) => ({ ...x, what: bench.label(x.field ?? "") + ": " + (x.to || t("emptied")) }))]
      .sort((a, b) => b.at.localeCompare(a.at)).slice(0, 200);
    past.replaceChildren(rows.length ? h("ul", {}, ...rows.map((x) => h("li", {}, when(x.at) + (x.by ? ", " + x.by : "") + ": " + x.what))) : h("p", { class: "hint" }, t("Nothing yet.")));
  };
  const failed = (err) => (unsaved = true, say(err.name === "QuotaExceededError"
    ? t("The storage of this device is full: the lot is not saved. Save the lots to a file, then delete old ones.")
    : t("The lot is not saved ({}). What is typed stays on the page.", err.message)));

  // save writes the lot unless another window has written it since, and says
  // whether it did.
  const save = async (what) => {
    try {
      const tx = db.transaction("lots", "readwrite");
      tx.done.catch(() => {}); // told where a step of it fails
      const theirs = await tx.store.get(lot.id);
      if (theirs && theirs.rev !== lot.rev) {
        await tx.done;
        conflict(theirs);
        return false;
      }
      if (!theirs && stored) stored = false; // deleted in another window: keep ours
      const next = { ...lot, ...what, rev: lot.rev + 1, changed: now() };
      await tx.store.put(next);
      await tx.done;
      const isNew = !stored;
      lot = next;
      stored = true;
      if (unsaved) say();
      unsaved = false;
      keepLast(lot.id);
      channel?.postMessage(lot.id);
      if (isNew || what.state?.lot !== undefined) await list();
      tell();
      return true;
    } catch (err) {
      failed(err);
      return false;
    }
  };
  // settled saves what is typed and not yet saved; where that fails, the form
  // may not be filled with anything else.
  const settled = async () => {
    if (timer !== undefined || unsaved) await flush();
    if (unsaved) pick.value = lot.id;
    return !unsaved;
  };
  const conflict = (theirs) => (unsaved = true, say(t("This lot was changed in another window."), " ",
    button(t("Take what stands there"), async () => { say(); await show(await db.get("lots", theirs.id) ?? theirs); }), " ",
    button(t("Keep what stands here as a new lot"), async () => {
      say();
      lot = { ...fresh(bench.changed()), notes: lot.notes, history: lot.history, card: lot.card };
      stored = false;
      await save({});
    })));

  const show = async (l) => {
    lot = l;
    stored = true;
    unsaved = false;
    keepLast(l.id);
    bench.put(l.state);
    await list();
    tell();
    cards.show(l.card);
  };
  const start = async () => {
    lot = fresh({});
    stored = false;
    unsaved = false;
    keepLast("");
    bench.put({});
    await list();
    tell();
    cards.show({});
  };

  pick.addEventListener("change", async () => {
    const id = pick.value;
    if (!await settled()) return;
    const l = await db.get("lots", id);
    if (l) await show(l);
  });
  channel?.addEventListener("message", async (event) => {
    await list();
    if (event.data !== lot.id || !stored) return;
    const theirs = await db.get("lots", lot.id);
    if (theirs && theirs.rev !== lot.rev) {
      if (timer === undefined && !unsaved) await show(theirs);
      else conflict(theirs);
    }
  });

  const remove = button(t("Delete this lot"), () => {
    if (!stored) return;
    say(t("Delete {} for good?", name(lot)), " ", button(t("Delete it"), async () => {
      await db.delete("lots", lot.id);
      channel?.postMessage(lot.id);
      say();
      await start();
    }), " ", button(t("Keep it"), () => say()));
  });
  const download = (text, file, type) => {
    const a = h("a", { href: URL.createObjectURL(new Blob([text], { type })), download: file });
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 10_000);
  };
  const day = () => now().slice(0, 10);
  const file = h("input", { type: "file", accept: ".json,application/json", class: "visually-hidden" });
  file.addEventListener("change", async () => {
    const f = file.files[0];
    if (!f) return;
    const got = f.size > 20_000_000 ? { why: t("the file is larger than 20 MB") } : read(await f.text(), bench.names);
    file.value = "";
    if (got.why) {
      say(t("Nothing was read from {}: {}.", f.name, got.why));
      return;
    }
    const may = await settled(); // may the form be filled with another?
    try {
      const tx = db.transaction("lots", "readwrite");
      tx.done.catch(() => {}); // told where a step of it fails
      const taken = [];
      for (const l of got.lots) {
        const have = await tx.store.get(l.id);
        if (have && have.changed >= l.changed) continue; // ours is as new
        await tx.store.put({ ...l, rev: Math.max(l.rev, have?.rev ?? 0) + 1 });
        taken.push(l.id);
      }
      await tx.done; // all or none
      channel?.postMessage("");
      say(t("Lots read from {}: {}; already here: {}.", f.name, taken.length, got.lots.length - taken.length));
      // The lot that stands here, where it came anew; else the first that came.
      const next = taken.includes(lot.id) ? lot.id : taken[0] ?? (stored ? undefined : got.lots[0]?.id);
      if (may && next) await show(await db.get("lots", next));
      else await list();
    } catch (err) {
      failed(err);
    }
  });

  place.append(
    h("div", { class: "lots-row" },
      h("p", {}, h("label", { for: "lot-pick" }, t("Lots on this device")), pick),
      h("p", {}, h("label", { for: "lot-by" }, t("Noted by")), by)),
    h("div", { class: "does" }, button(t("New lot"), async () => { if (await settled()) await start(); }), remove,
      button(t("Save all lots to a file"), async () => { await settled(); download(write(await db.getAll("lots")), "evenlot-lots-" + day() + ".json", "application/json"); }),
      h("label", { class: "pick" }, t("Read lots from a file"), file),
      button(t("Readings as CSV"), async () => { await settled(); download(csv(await db.getAll("lots"), bench.names, bench.usual, bench.head), "evenlot-readings-" + day() + ".csv", "text/csv"); })),
    h("details", { class: "fold" }, h("summary", {}, t("Who noted what, when")),
      h("p", {}, h("label", { for: "lot-note" }, t("Note")), " ", note, " ", button(t("Add the note"), async () => {
        if (!note.value.trim()) return;
        const text = note.value.trim().slice(0, 2000);
        if (await save({ notes: [...lot.notes, { at: now(), by: by.value.trim(), text }].slice(-1000) })) note.value = "";
      })), past));
  const cards = offerCard(place, bench, (card) => save({ card }));

  // The lot of this window, else the one last open. An address stands for a
  // lot only where the window held just that when it was left, or the lot does:
  // a reload, not somebody's link.
  const was = draft();
  const open = was?.id || last();
  const before = open && await db.get("lots", open);
  const here = bench.changed();
  const ours = Boolean(was) && alike(here, was.state);
  if (before && (ours && was.id === before.id || linked && alike(here, before.state))) {
    lot = before;
    stored = true;
    keepLast(lot.id);
    await list();
    tell();
    cards.show(lot.card);
    if (!alike(here, before.state) && was.rev !== before.rev) {
      lot = { ...before, rev: was.rev };
      conflict(before);
    }
  } else if (before && !linked) await show(before);
  else {
    lot.state = ours && was.pending ? {} : here;
    await list();
    tell();
  }

  // Saved a moment after the last key; what changed is noted with its hour.
  const flush = async () => {
    clearTimeout(timer);
    timer = undefined;
    const state = bench.changed();
    const history = [...lot.history];
    for (const k of new Set([...Object.keys(state), ...Object.keys(lot.state)])) {
      if ((state[k] ?? "") === (lot.state[k] ?? "")) continue;
      const e = history.at(-1);
      const entry = { at: now(), by: by.value.trim(), field: k, to: (state[k] ?? "").slice(0, 200) };
      // Typing on in one field within a minute is one entry.
      if (e && e.field === k && e.by === entry.by && Date.parse(entry.at) - Date.parse(e.at) < 60_000) history[history.length - 1] = entry;
      else history.push(entry);
    }
    if (!unsaved && alike(state, lot.state)) return;
    await save({ state, history: history.slice(-5000) });
  };
  if (!unsaved && !alike(bench.changed(), lot.state)) await flush(); // the last keys before a reload
  addEventListener("pagehide", () => {
    keepDraft({ id: lot.id, rev: lot.rev, state: bench.changed(), pending: timer !== undefined });
    if (timer !== undefined) flush();
  });
  return () => {
    clearTimeout(timer);
    timer = setTimeout(flush, 400);
  };
}
