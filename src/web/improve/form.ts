// Owns what is typed about changes, and the question that is made of it: jobs with how often they come, a rate, a file.

import type { Vehicle } from "../../vehicle/index.ts";
import type { GivenFile, ImproveAsked, Taught } from "../engine/times-asked.ts";

/** As it is typed. */
export interface Form {
  /** By job; nobody said anything while it is empty. */
  readonly often: Readonly<Record<string, string>>;
  readonly rate: string;
  readonly changes?: GivenFile;
}

export const NOTHING_SAID: Form = { often: {}, rate: "" };

/** A number above 0 as it is typed, with a point or a comma. */
export const readNumber = (text: string): number | undefined => {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) && value > 0 ? value : undefined;
};

/** How often the jobs come, as was typed; all alike where nobody said. */
export const oftenOf = (form: Form, { jobs }: Vehicle): Pick<ImproveAsked, "jobs" | "weighed"> => {
  const often = jobs.flatMap(({ id }) => {
    const weight = readNumber(form.often[id] ?? "");
    return weight === undefined ? [] : [{ id, weight }];
  });
  return {
    jobs: often.length > 0 ? often : jobs.map(({ id }) => ({ id, weight: 1 })),
    weighed: often.length > 0,
  };
};

export const bodyOf = (form: Form, vehicle: Vehicle, crew: ImproveAsked["crew"], taught: Taught): ImproveAsked => {
  const rate = readNumber(form.rate);
  return {
    ...oftenOf(form, vehicle),
    ...(crew === undefined ? {} : { crew }),
    ...(form.changes === undefined ? {} : { changes: form.changes }),
    ...(rate === undefined ? {} : { rate }),
    taught,
  };
};
