// Owns what people call the things of a question: each id by the words of its file.

import type { Vehicle } from "../vehicle/index.ts";
import type { Question } from "./question.ts";

/** The thing of the file that a fault is at: "legs/front-left" is a leg's. */
export const ownId = (at: string): string => at.split("/").at(-1) ?? at;

/** What a vehicle's file calls a thing; a leg, an eye, a hook and a beam have their ids alone, and of a box that is one of several the part's name stands. */
export const nameIn = (vehicle: Vehicle, id: string): string => {
  const [own = id] = id.split("/");
  const { parts, connections, tasks, hoists, obstacles = [] } = vehicle;
  return [...parts, ...connections, ...tasks, ...hoists, ...obstacles].find((one) => one.id === own)?.label ?? id;
};

/** What a person calls the thing with this id: a part, a connection, a way of it, a task, a hang, a job or its work. */
export const labelOf = ({ vehicle, sources }: Question, id: string): string => {
  const source = sources.get(id);
  if (source?.kind === "way")
    return source.way.label === undefined ? source.connection.label : `${source.connection.label}, ${source.way.label}`;
  if (source?.kind === "task") return source.task.label;
  if (source?.kind === "work") return source.work.label;
  if (source?.kind === "goal") return source.job.label;
  const named = [...vehicle.parts, ...vehicle.connections, ...vehicle.positions, ...vehicle.hoists, ...vehicle.jobs];
  const partOf = (part: string) => vehicle.parts.find((one) => one.id === part)?.label ?? part;
  if (source?.kind === "hang") return `${source.part.label} aside on ${partOf(source.hang.to)}`;
  return named.find((one) => one.id === id)?.label ?? id;
};
