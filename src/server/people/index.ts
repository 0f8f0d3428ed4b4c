// The door of people: who comes in, who is behind a request, who vouches for whom; the routes of accounts, devices and sites.
export { Doorkeeper } from "./doorkeeper.ts";
export { peopleRoutes } from "./routes.ts";
export type { Cost } from "./secrets.ts";
