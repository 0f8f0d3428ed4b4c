// Owns the words that stand on every page of a pack, in English.

export const pack = {
  title: (jobs: string, vehicle: string) => `Job pack: ${jobs}, ${vehicle}`,
  order: (id: string) => `Order ${id}`,
  file: (digest: string) => `file ${digest}`,
  version: (version: number) => `version ${version}`,
  made: (moment: string) => `made ${moment}`,
  pageOf: ["page ", " of "] as [string, string],
  continued: "continued",
  done: "done",
  second: "2nd",
  general:
    "The maker's instructions, local rules and the competent person go before this pack. The list of cautions is not complete.",
  lockout:
    "The machine can start or move while you work. Take the key or lock the isolator, tag it with your name, try to start it, then begin.",
  invented: (note: string) => `Of the file: ${note}`,
  sign: { name: "Name", signature: "Signature", when: "Date, time" },
  signals: { DANGER: "DANGER", WARNING: "WARNING", CAUTION: "CAUTION" },
};
