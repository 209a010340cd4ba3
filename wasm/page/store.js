// What this browser remembers: nothing leaves it. A browser that refuses to
// store loses nothing that is on the page.
export const base = "evenlot:" + new URL(document.documentElement.dataset.root, location.href).pathname + ":";

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(base + key) ?? "null");
  } catch {
    return null;
  }
}

function write(key, value) {
  try {
    localStorage.setItem(base + key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export const recall = (id) => read("form:" + id);
export const remember = (id, state) => write("form:" + id, state);
export const recent = () => read("recent") ?? [];
export function used(id) {
  write("recent", [id, ...recent().filter((x) => x !== id)].slice(0, 6));
}

export const pinned = () => read("pinned") ?? [];
export function pin(id, on) {
  return write("pinned", [...pinned().filter((x) => x !== id), ...(on ? [id] : [])]);
}

// Our meters: the plus-minus of each kind of reading, for every calculator.
export const meters = () => read("meters") ?? {};
export function keepMeters(own) {
  return write("meters", { ...meters(), ...own });
}

// What this window alone held when it was left: its lot and what stood in it.
export function draft() {
  try {
    return JSON.parse(sessionStorage.getItem(base + "draft") ?? "null");
  } catch {
    return null;
  }
}
export function keepDraft(held) {
  try {
    sessionStorage.setItem(base + "draft", JSON.stringify(held));
  } catch {
    // The address and the database still know.
  }
}

// What stood in a form when it was left. Its address may be a key behind: it is
// written after the answer is seen, and a reload may have set out before that.
export function keepLate(state) {
  try {
    sessionStorage.setItem(base + "late", JSON.stringify({ href: location.href, path: location.pathname, state }));
  } catch {
    // One key is lost, where nothing can be kept.
  }
}
// late is for a reload, which comes back to the page just left whatever its
// address, and for the very place that was left, come back to.
export function late() {
  try {
    const held = JSON.parse(sessionStorage.getItem(base + "late") ?? "null");
    sessionStorage.removeItem(base + "late");
    const way = performance.getEntriesByType("navigation")[0]?.type;
    if (way === "reload" && held?.path === location.pathname || way === "back_forward" && held?.href === location.href) return held.state;
  } catch {
    // As above.
  }
}

// The lot last open, and who notes here.
export const last = () => read("lot") ?? "";
export const keepLast = (id) => write("lot", id);
export const noter = () => read("noter") ?? "";
export const keepNoter = (name) => write("noter", name.slice(0, 80));
