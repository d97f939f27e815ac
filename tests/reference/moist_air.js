// Writes moist_air.csv: states of moist air worked out by psychrolib (npm, MIT license), a library
// that shares no code with ours. To refresh: npm install && node moist_air.js > moist_air.csv
'use strict';
const { version } = require('psychrolib/package.json');
const p = require('psychrolib');
p.SetUnitSystem(p.SI);

// Wet bulbs fall on both sides of freezing, and some dry bulbs sit close to it.
const temperatures = [-20, -10, -3, 0.5, 5, 10, 15, 20, 25, 30, 35, 40, 50]; // C
const humidities = [0.05, 0.2, 0.5, 0.8, 1]; // fraction
const altitudes = [0, 1500, 3000]; // m
const text = (x) => String(Number(x.toPrecision(13)));

console.log(`# Moist air by psychrolib ${version}, SI (npm, MIT license), made by moist_air.js`);
console.log('# altitude m, p Pa, t C dry bulb, rh fraction, W kg/kg dry air, t_wb C wet bulb,');
console.log('# t_dp C dew point, h J/kg dry air, v m3/kg dry air');
console.log('altitude,p,t,rh,W,t_wb,t_dp,h,v');
for (const z of altitudes)
  for (const t of temperatures)
    for (const rh of humidities) {
      const pressure = p.GetStandardAtmPressure(z);
      const W = p.GetHumRatioFromRelHum(t, rh, pressure);
      const row = [z, pressure, t, rh, W, p.GetTWetBulbFromHumRatio(t, W, pressure),
        p.GetTDewPointFromHumRatio(t, W, pressure), p.GetMoistAirEnthalpy(t, W),
        p.GetMoistAirVolume(t, W, pressure)];
      console.log(row.map(text).join(','));
    }
