// The types know every calculator: its inputs, their units, its values.
import { load, type RoastSeriesInput } from "evenlot";

const weighings: [green: number, roasted: number][] = [[12, 10.16], [12, 10.14], [12, 10.17], [12, 10.13], [12, 10.15], [12, 10.04]];
const input: RoastSeriesInput = { batches: weighings };

const e = await load({ language: "en" });
const r = await e.roastSeries(input);
if (r.ok) {
  for (const v of Object.values(r.values)) console.log(v.label, v.text, v.unit ?? "");
} else {
  for (const f of r.faults) console.error(f.field === "batches" ? "the weighings" : f.field, f.text);
}
