// What green coffee comes to in a room, from the command line:
//
//	node room.mjs 18.0 57
import { load } from "evenlot";

const [t, rh] = process.argv.slice(2);
const e = await load();
const r = await e.roomMoisture({ t, rh });
if (r.ok) {
  const m = r.values.m;
  console.log(`${m.label}: ${m.text} ± ${m.plusMinus} ${m.unit}`);
  for (const v of r.verdicts) console.log(`${v.word}, judged by ${v.limit}`);
  for (const n of r.notes) console.log(n);
} else {
  for (const f of r.faults) console.error(`${f.field}: ${f.text}`);
  if (r.problem) console.error(r.problem);
  process.exitCode = 1;
}
