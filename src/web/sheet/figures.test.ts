// Figures in the units and the language that are preferred. Factors: NIST SP 811 (pound 0.453 592 37 kg, lbf 4.448 222 N, foot 0.3048 m).
import { expect, test } from "vitest";
import { Figures } from "./figures.ts";

const si = new Figures({ language: "en", units: "si", light: "auto" });
const inch = new Figures({ language: "en", units: "inch", light: "auto" });
const german = new Figures({ language: "de", units: "si", light: "auto" });

test("a mass, a force, a length, a torque in both", () => {
  expect([si, inch, german].map((one) => one.measure(448, "mass"))).toEqual(["448 kg", "988 lb", "448 kg"]);
  expect([si, inch, german].map((one) => one.measure(4390, "force"))).toEqual(["4.39 kN", "987 lbf", "4,39 kN"]);
  expect([si, inch].map((one) => one.measure(0.3048, "length"))).toEqual(["0.3 m", "1 ft"]);
  expect([si, inch].map((one) => one.measure(0.0254, "short"))).toEqual(["25 mm", "1 in"]);
  expect([si, inch].map((one) => one.measure(67.79, "torque"))).toEqual(["67.8 N·m", "50 lbf·ft"]);
});

test("in a field without grouping, with the decimal sign of the language", () => {
  expect([si, inch, german].map((one) => one.plain(1234.56, "torque"))).toEqual(["1234.6", "910.6", "1234,6"]);
});

test("moments in the time zone of the site, whatever the browser's own is", () => {
  const auckland = new Figures({ language: "en", units: "si", light: "auto" }, "Pacific/Auckland");
  const zurich = new Figures({ language: "de", units: "si", light: "auto" }, "Europe/Zurich");
  // In winter there, in summer here.
  const at = Date.UTC(2026, 6, 30, 22, 5);
  expect([auckland.moment(at), auckland.date(at), auckland.time(at), auckland.isoDate(at)]).toEqual([
    "31 Jul 2026, 10:05",
    "31 Jul 2026",
    "10:05",
    "2026-07-31",
  ]);
  expect([zurich.moment(at), zurich.time(at)]).toEqual(["31. Juli 2026, 00:05", "00:05"]);
});

test("minutes as hours and minutes, times of day with 24 hours and the days behind", () => {
  expect([0.5, 9.4, 59.4, 60, 967, -5].map((value) => si.minutes(value))).toEqual([
    "0.5 min",
    "9.4 min",
    "59 min",
    "1 h",
    "16 h 07 min",
    "−5 min",
  ]);
  expect([0, 425, 1439, 1441].map((value) => si.clock(value))).toEqual(["00:00", "07:05", "23:59", "00:01 +1"]);
});
