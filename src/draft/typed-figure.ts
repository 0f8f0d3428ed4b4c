// Owns what is typed as the answer to a question, made what the file takes: a bare number gets the unit that is asked for, three of them are a place.

/** The unit of a bare number, by the key that it is written under. */
export const UNITS: Readonly<Record<string, string>> = {
  mass: "kg",
  centre: "m",
  torque: "N·m",
  amount: "L",
  time: "min",
};

const NUMBER = /^[-+]?\d+(?:[.,]\d+)?$/;
const plain = (text: string): string => text.replace(",", ".");

/** The answer as YAML. */
export const asWritten = (key: string, answer: string): string => {
  const text = answer.trim();
  const unit = UNITS[key];
  if (key === "centre") {
    const inner = text.replace(/^\[|\]$/g, "");
    const places = inner.split(inner.includes(";") ? /\s*;\s*/ : /\s*,\s+|\s*,(?=\D)/).map((one) => one.trim());
    const parts = places.length === 1 ? inner.trim().split(/\s+/) : places;
    return `[${parts.map((one) => (NUMBER.test(one) ? `${plain(one)} ${unit}` : one)).join(", ")}]`;
  }
  if (unit !== undefined && NUMBER.test(text)) return `${plain(text)} ${unit}`;
  // A mark that begins something else in YAML is a plain text here.
  return /^[\p{L}\p{N}+-]/u.test(text) && !/[:#{}[\],]/.test(text) ? text : JSON.stringify(text);
};
