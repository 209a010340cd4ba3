// Times the peer's functions, at the inputs of library.go; the least of
// several rounds, as there. Prints name and nanoseconds of one call.
import psychrolib from "psychrolib";
psychrolib.SetUnitSystem(psychrolib.SI);
let t = 21.5, rh = 0.57, sink = 0;
const list = {
  saturation: () => psychrolib.GetSatVapPres(t),
  dewPoint: () => psychrolib.GetTDewPointFromRelHum(t, rh),
  humidity: () => psychrolib.GetRelHumFromTWetBulb(t, 16, 101325),
};
for (const [name, f] of Object.entries(list)) {
  const round = n => {
    const start = process.hrtime.bigint();
    for (let i = 0; i < n; i++) sink += f();
    return Number(process.hrtime.bigint() - start);
  };
  let n = 1;
  for (let i = 0; i < 20; i++) round(1000); // compiled by now
  while (round(n) < 2e5) n *= 2;
  let best = Infinity;
  for (let i = 0; i < 500; i++) best = Math.min(best, round(n));
  console.log(name, best / n);
}
if (!Number.isFinite(sink)) process.exit(1);
