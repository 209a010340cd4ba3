// Own data: a file's columns are recognised or chosen; a short one goes into
// the field, a long one is read and computed with in a worker.
import { h } from "./dom.js";
import { t } from "./words.js";
import { encoding, guess, take } from "./columns.js";

const short = 100_000; // characters that a field shows without slowing down
const widest = 200; // columns to choose from

const text = async (file, most = file.size) => new TextDecoder(await encoding(file)).decode(await file.slice(0, most).arrayBuffer());

// offerData watches the file pickers. host is {calc, place(), state(), show(sheet), changed()}.
export function offerData(form, host) {
  let round = 0;
  let held; // {worker, field, box, line}: a file that is read and used
  let reading; // {worker, field, box}: one on its way; until then what stood there counts
  const drop = () => {
    for (const x of [held, reading]) {
      x?.worker.terminate();
      x?.box.replaceChildren();
    }
    held = reading = undefined;
  };
  for (const pick of form.querySelectorAll("input[type=file]")) {
    const area = document.getElementById(pick.dataset.into);
    const wanted = area.dataset.columns.split("|");
    const units = area.dataset.units.split("|");
    const box = h("div", { class: "import", role: "status" });
    pick.closest(".ask").append(box);

    const large = (file, plan) => {
      reading?.worker.terminate();
      const worker = new Worker(new URL("work.js", import.meta.url), { type: "module" });
      const mine = reading = { worker, field: area.name, box };
      const bar = h("progress", { max: "100", value: "0", "aria-label": t("Reading the file") });
      const said = h("p", {}, t("Reading…"));
      const stop = h("button", { type: "button" }, t("Stop"));
      const end = (text) => {
        if (held === mine) drop();
        worker.terminate();
        if (reading === mine) reading = undefined;
        box.replaceChildren(h("p", {}, text), ...(held?.box === box ? held.line : []));
        host.changed();
      };
      stop.addEventListener("click", () => end(t("Stopped. Nothing of the file is used.")));
      box.replaceChildren(bar, said, stop);
      worker.addEventListener("message", ({ data: m }) => {
        if (m.verb === "progress") {
          bar.value = Math.min(99, 100 * m.done / m.all);
          said.textContent = t("Rows read: {}; not read: {}.", m.good, m.bad);
        } else if (m.verb === "read") {
          said.textContent = t("{}: rows read {}, not read {}.", file.name, m.good ?? 0, m.bad ?? 0);
          stop.textContent = t("Leave the file away");
          held?.worker.terminate();
          if (held && held.box !== box) held.box.replaceChildren();
          held = Object.assign(mine, { line: [said, stop] });
          reading = undefined;
          bar.remove();
          area.value = "";
          host.changed();
        } else if (m.verb === "sheet" && m.round === round) host.show(m.sheet);
        else if (m.verb === "failed") end(t("The file could not be used ({}).", t(m.why)));
      });
      worker.addEventListener("error", () => end(t("The file could not be used ({}).", t("its reader did not start"))));
      worker.postMessage({ verb: "begin", place: host.place(), calc: host.calc });
      worker.postMessage({ verb: "read", field: area.name, file, plan });
    };

    const use = async (file, plan) => {
      if (file.size > short) return large(file, plan);
      drop();
      const map = take(plan);
      area.value = (await text(file)).split(/\r?\n/).map(map).filter((l) => l && l !== "#").join("\n");
      box.replaceChildren(h("p", {}, t("Read from {}.", file.name)));
      area.dispatchEvent(new Event("change", { bubbles: true }));
    };

    pick.addEventListener("change", async () => {
      const file = pick.files[0];
      if (!file) return;
      pick.value = "";
      if (file.size > 200_000_000) {
        box.replaceChildren(h("p", {}, t("{} is larger than 200 MB and was not read.", file.name)));
        return;
      }
      const head = await text(file, 20_000);
      if (/[\0-\x08\x0e-\x1f]/.test(head)) {
        box.replaceChildren(h("p", {}, t("{} is no plain text and was not read. Save it as CSV in UTF-8.", file.name)));
        return;
      }
      const plan = { ...guess(head, wanted, units), units };
      if (plan.names.length > widest) {
        box.replaceChildren(h("p", {}, t("{} has more than {} columns and was not read.", file.name, widest)));
        return;
      }
      if (plan.names.length <= wanted.length) return use(file, plan);
      // More columns than wanted: show what was recognised, let it be changed.
      const selects = wanted.map((w, k) => h("select", { id: area.id + "-col-" + k }, ...plan.names.map((name, i) => h("option", { value: String(i), selected: i === plan.choice[k] }, name))));
      const go = h("button", { type: "button" }, t("Use these columns"));
      go.addEventListener("click", () => use(file, { ...plan, choice: selects.map((s) => Number(s.value)) }));
      box.replaceChildren(h("p", {}, t("Which columns of {}?", file.name)),
        ...selects.map((s, k) => h("p", {}, h("label", { for: s.id }, wanted[k]), " ", s)), go);
      selects[0].focus();
    });
    area.addEventListener("input", () => { if ([held?.field, reading?.field].includes(area.name)) drop(); });
  }
  // evaluate computes in the worker where a long series lies there.
  return {
    busy: () => held !== undefined,
    evaluate(state) { held.worker.postMessage({ verb: "evaluate", round: ++round, state }); },
    leave: drop,
  };
}
