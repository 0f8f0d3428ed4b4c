// Owns one measuring of the rigging room in a process of its own: repeats on the command line, the rows as one line of JSON.
import { measureRigging } from "./run.ts";

console.log(JSON.stringify(measureRigging(() => performance.now(), Number(process.argv[2]))));
