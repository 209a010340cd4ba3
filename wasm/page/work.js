// The worker: reads a long series a piece at a time and computes with it, so
// that the page never waits.
import "./wasm_exec.js";
import { ask, begin } from "./engine.js";
import { take, lines } from "./columns.js";

let calc;

self.addEventListener("message", async ({ data: m }) => {
  try {
    if (m.verb === "begin") {
      begin(m.place);
      calc = m.calc;
    } else if (m.verb === "read") {
      let done = 0, count = {};
      const map = take(m.plan);
      await ask("feed", calc, m.field, "", true);
      for await (const block of lines(m.file)) {
        let text = "";
        for (const line of block.lines) text += map(line) + "\n";
        count = await ask("feed", calc, m.field, text, false);
        if (count.problem) throw new Error(count.problem);
        done = block.read;
        self.postMessage({ verb: "progress", done, all: m.file.size, ...count });
      }
      self.postMessage({ verb: "read", ...count });
    } else if (m.verb === "evaluate") {
      self.postMessage({ verb: "sheet", round: m.round, sheet: await ask("evaluate", calc, m.state) });
    }
  } catch (err) {
    self.postMessage({ verb: "failed", why: err.message });
  }
});
