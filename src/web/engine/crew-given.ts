// Owns who is there: the crew of an order as the page has it, for what the engine asks of the crew.

import { type Crew, crewOf, crewOfShop, fewestCrew, type Order } from "../../plan/index.ts";
import type { Vehicle } from "../../vehicle/index.ts";
import type { CrewGiven } from "./times-asked.ts";

export const crewGiven = (vehicle: Vehicle, given: CrewGiven | undefined): Crew => {
  if (typeof given === "number") return crewOf(given);
  const { people } = vehicle.shop;
  const named = given === undefined ? people : people.filter(({ id }) => given.includes(id));
  return named.length === 0 ? fewestCrew(vehicle) : crewOfShop(named);
};

/** What the planner is told of a crew: so many, or who with which skills. */
export const peopleOf = ({ able, people }: Crew): Order["people"] => (able ? people.length : people);
