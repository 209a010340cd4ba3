// Reading a curve with the finger: where the pointer is, in the units of the
// axes. The numbers themselves are in the table behind each picture.
import { n } from "./words.js";

const ns = "http://www.w3.org/2000/svg";

export function readable(figure) {
  const svg = figure.querySelector("svg[data-frame]");
  if (!svg) return;
  const [left, top, right, bottom] = svg.dataset.frame.split(/[ ,]+/).map(Number);
  const scale = (text) => {
    const [lo, hi, kind] = text.split(/[ ,]+/);
    const a = Number(lo), b = Number(hi);
    return kind === "log" ? (q) => a * (b / a) ** q : (q) => a + (b - a) * q;
  };
  const x = scale(svg.dataset.x), y = scale(svg.dataset.y);
  const rule = document.createElementNS(ns, "path");
  rule.setAttribute("class", "pointer");
  rule.setAttribute("fill", "none");
  rule.setAttribute("stroke", "currentColor");
  rule.setAttribute("pointer-events", "none");
  const said = document.createElement("p");
  said.className = "pointed hint";
  said.setAttribute("aria-hidden", "true");
  said.textContent = "\u00a0"; // its line is there from the start: nothing moves
  svg.after(said);
  svg.append(rule);
  const digits = (v) => n(String(Number(v.toPrecision(3)))).replace("-", "−");
  const move = (event) => {
    const box = svg.getBoundingClientRect();
    const width = svg.viewBox.baseVal.width;
    const px = (event.clientX - box.left) * width / box.width, py = (event.clientY - box.top) * width / box.width;
    if (px < left || px > right || py < top || py > bottom) return leave();
    rule.setAttribute("d", `M${px.toFixed(1)} ${top}V${bottom}M${left} ${py.toFixed(1)}H${right}`);
    said.textContent = digits(x((px - left) / (right - left))) + " ; " + digits(y((bottom - py) / (bottom - top)));
  };
  const leave = () => {
    rule.setAttribute("d", "");
    said.textContent = "\u00a0";
  };
  svg.addEventListener("pointermove", move);
  svg.addEventListener("pointerdown", move);
  svg.addEventListener("pointerleave", leave);
}
