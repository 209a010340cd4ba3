// Writes ../psychrolib.csv: the ASHRAE relations, perfect gas, by a general
// psychrometric library. With the word "bench" it prints how long its own
// functions take, in the form of Go's benchmarks.
//
//     npm install psychrolib@1.1.1
//     node psychrolib.cjs > ../psychrolib.csv
//     node psychrolib.cjs bench
const p = require('psychrolib')
p.SetUnitSystem(p.SI)

if (process.argv[2] === 'bench') {
  let sink = 0
  const run = (name, n, f) => {
    for (let i = 0; i < 1e5; i++) sink += f(i)
    const from = process.hrtime.bigint()
    for (let i = 0; i < n; i++) sink += f(i)
    const ns = Number(process.hrtime.bigint() - from) / n
    console.log(`BenchmarkPeer/${name} ${n} ${ns.toFixed(1)} ns/op`)
  }
  run('saturation', 2e6, i => p.GetSatVapPres(20 + (i & 7)))
  run('dewpoint', 1e6, i => p.GetTDewPointFromRelHum(20 + (i & 7), 0.57))
  run('wetbulb', 1e5, i => p.GetTWetBulbFromRelHum(20 + (i & 7), 0.57, 101325))
  if (sink === 0) console.log(sink)
  process.exit(0)
}

const row = (kind, t, rh, kPa, v) => console.log([kind, t, rh, kPa, Number(v.toPrecision(14))].join())
console.log('# npm psychrolib 1.1.1, node ' + process.versions.node + '; written by oracle/psychrolib.cjs')
console.log('kind,TempC,RHPct,PressureKPa,value')
for (let t = -40; t <= 150; t += 5) row('saturation Pa', t, 0, 0, p.GetSatVapPres(t))
for (let z = -500; z <= 5000; z += 500) row('pressure at altitude Pa', z, 0, 0, p.GetStandardAtmPressure(z))
for (let t = 5; t <= 80; t += 5) {
  for (const rh of [10, 35, 57, 80, 100]) {
    row('dew point C', t, rh, 0, p.GetTDewPointFromRelHum(t, rh / 100))
    for (const kPa of [70, 101.325]) {
      const w = p.GetHumRatioFromRelHum(t, rh / 100, kPa * 1000)
      row('humidity ratio g/kg', t, rh, kPa, 1000 * w)
      row('enthalpy kJ/kg', t, rh, kPa, p.GetMoistAirEnthalpy(t, w) / 1000)
      row('density kg/m3', t, rh, kPa, p.GetMoistAirDensity(t, w, kPa * 1000))
      row('wet bulb C', t, rh, kPa, p.GetTWetBulbFromRelHum(t, rh / 100, kPa * 1000))
    }
  }
}
