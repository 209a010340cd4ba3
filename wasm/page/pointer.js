// Reading a curve with the finger: where the pointer is, in the units of the
// axes. The numbers themselves are in the table behind each picture.
import { n } from "./words.js";

const ns = "http://www.w3.org/2000/svg";
const digits = (v) => n(String(Number(v.toPrecision(3)))).replace("-", "−");

// scale reads "least greatest linear" or "least greatest log".
const scale = (text) => {
  const [lo, hi, kind] = text.split(/[ ,]+/);
  const a = Number(lo), b = Number(hi);
  return kind === "log" ? (q) => a * (b / a) ** q : (q) => a + (b - a) * q;
};

// readable lets the pictures in a place be read with the pointer, those too
// that come later.
export function readable(place) {
  let rule, said;
  const leave = () => {
    rule?.remove();
    said?.remove();
    rule = said = undefined;
  };
  const move = (event) => {
    const svg = event.target.closest?.("svg[data-frame]");
    if (!svg) return leave();
    const [left, top, right, bottom] = svg.dataset.frame.split(/[ ,]+/).map(Number);
    const box = svg.getBoundingClientRect();
    const width = svg.viewBox.baseVal.width;
    const px = (event.clientX - box.left) * width / box.width, py = (event.clientY - box.top) * width / box.width;
    if (px < left || px > right || py < top || py > bottom) return leave();
    if (rule?.parentNode !== svg) {
      leave();
      rule = document.createElementNS(ns, "path");
      for (const [k, v] of Object.entries({ class: "pointer", fill: "none", stroke: "currentColor", "pointer-events": "none" })) rule.setAttribute(k, v);
      said = document.createElement("p");
      said.className = "pointed hint";
      said.setAttribute("aria-hidden", "true");
      svg.append(rule);
      svg.after(said);
    }
    rule.setAttribute("d", `M${px.toFixed(1)} ${top}V${bottom}M${left} ${py.toFixed(1)}H${right}`);
    // An axis' name stands over the frame for Y, under it for X.
    const labels = [...svg.querySelectorAll(".f-label")];
    const say = (over, v) => {
      const label = labels.filter((l) => Number(l.getAttribute("y")) < top === over).map((l) => l.textContent).join(" ");
      const [, what, unit] = /^(.*), (\S{1,14})$/.exec(label) ?? [, label, ""];
      return [what, digits(v), unit].filter(Boolean).join(" ");
    };
    said.textContent = say(false, scale(svg.dataset.x)((px - left) / (right - left))) + "; " + say(true, scale(svg.dataset.y)((bottom - py) / (bottom - top)));
  };
  place.addEventListener("pointermove", move);
  place.addEventListener("pointerdown", move);
  place.addEventListener("pointerleave", leave);
  place.addEventListener("pointercancel", leave);
}
