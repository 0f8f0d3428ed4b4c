// Short names out of names, skills out of a line, and start secrets that the server takes.
import { expect, test } from "vitest";
import { madeUpPassword, madeUpPin } from "./made-up.ts";
import { idFrom, skillsIn } from "./members.ts";

test("a short name is the first name in the letters that an address takes", () => {
  expect(["Emil", "Jörg Müller-Lüdenscheidt", "  Élodie  B.", "ß", "王 伟", "-x"].map(idFrom)).toEqual([
    "emil",
    "joerg",
    "elodie",
    "ss",
    "",
    "x",
  ]);
});

test("skills are what stands between the commas, each once", () => {
  expect(skillsIn(" fitter, rigger,, fitter ")).toEqual(["fitter", "rigger"]);
  expect(skillsIn("")).toEqual([]);
});

test("a PIN that is tried first is thrown again", () => {
  // One digit again and again, then digits in a row, then 251, which divides no ten, then what is taken.
  const bytes = [7, 7, 7, 7, 7, 7, 1, 2, 3, 4, 5, 6, 251, 4, 0, 9, 1, 3, 7];
  const pin = madeUpPin((byte) => {
    byte[0] = bytes.shift() ?? 0;
  });
  expect(pin).toBe("409137");
  expect(madeUpPassword()).toMatch(/^[a-km-np-z2-9]{4}(-[a-km-np-z2-9]{4}){2}$/);
});
