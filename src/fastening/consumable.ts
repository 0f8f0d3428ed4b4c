// Owns what is used up at refits: grease, sealant, thread-lock, paint marks, summed by thing and unit.

/** Something used up: litres, kilograms or metres of it, or as much as it takes. */
export interface Consumable {
  readonly item: string;
  readonly amount?: { readonly value: number; readonly unit: "L" | "kg" | "m" };
}

/** So much of a thing in all, and the steps that want it. */
export interface Used {
  readonly item: string;
  readonly amount?: { readonly value: number; readonly unit: "L" | "kg" | "m" };
  /** Steps of these that take as much as they need. */
  readonly asNeeded: readonly number[];
  readonly steps: readonly number[];
}

/** The same things of all steps together; a thing that is measured in two units stands twice. */
export function gatherConsumables(
  steps: readonly { readonly number: number; readonly consumables: readonly Consumable[] }[],
): Used[] {
  const all = new Map<
    string,
    { item: string; value: number; unit?: "L" | "kg" | "m"; asNeeded: number[]; steps: number[] }
  >();
  for (const { number, consumables } of steps)
    for (const { item, amount } of consumables) {
      // What is measured elsewhere and is not here joins the measured line.
      const key = amount === undefined ? ([...all.values()].find((one) => one.item === item)?.unit ?? "") : amount.unit;
      const plain = all.get(`${item}\n`);
      const one = all.get(`${item}\n${key}`) ?? plain ?? { item, value: 0, asNeeded: [], steps: [] };
      if (plain !== undefined && key !== "") all.delete(`${item}\n`);
      if (amount === undefined) one.asNeeded.push(number);
      else {
        one.value += amount.value;
        one.unit = amount.unit;
      }
      if (one.steps.at(-1) !== number) one.steps.push(number);
      all.set(`${item}\n${key}`, one);
    }
  return [...all.values()]
    .map(({ item, value, unit, ...rest }) => ({
      item,
      ...(unit === undefined ? {} : { amount: { value: Number(value.toPrecision(12)), unit } }),
      ...rest,
    }))
    .sort((a, b) => (a.item < b.item ? -1 : a.item > b.item ? 1 : 0));
}
