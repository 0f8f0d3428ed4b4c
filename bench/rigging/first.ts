// Owns one measuring of the rigging room in a process of its own: repeats on the command line, the rows as one line of JSON.
import { measureRigging } from "./run.ts";

// Processor time: on a machine that others use too the clock on the wall measures them.
const clock = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

console.log(JSON.stringify(measureRigging(clock, Number(process.argv[2]))));
