// Owns the connections of the server: which have a request under way, and how all of them end when it stops.

import type { Server } from "node:http";
import type { Socket } from "node:net";

/** One connection by its other end: under TLS there are two sockets of it. */
const endOf = ({ remoteAddress, remotePort }: Socket): string => `${remoteAddress} ${remotePort}`;

/**
 * Follows a server's connections from now on.
 * @returns what stops it: no more are let in, those without a request are ended at once, for a browser opens some ahead and keeps them; others when they are
 * answered, or after the grace
 */
export const connectionsOf = (server: Server): ((grace: number) => Promise<void>) => {
  const sockets = new Map<string, Socket>();
  const underWay = new Map<string, number>();
  let isStopping = false;
  const endIdle = () => {
    for (const [end, socket] of sockets) if (!underWay.has(end)) socket.destroySoon();
  };
  const hold = (socket: Socket) => {
    const end = endOf(socket);
    sockets.set(end, socket);
    socket.once("close", () => {
      if (sockets.get(end) === socket) sockets.delete(end);
    });
  };
  server.on("connection", hold);
  // Of the two the outer one, which has said all before it ends.
  server.on("secureConnection", hold);
  server.prependListener("request", ({ socket }, response) => {
    const end = endOf(socket);
    underWay.set(end, (underWay.get(end) ?? 0) + 1);
    response.once("close", () => {
      const left = (underWay.get(end) ?? 1) - 1;
      if (left > 0) underWay.set(end, left);
      else underWay.delete(end);
      if (isStopping) endIdle();
    });
  });
  return (grace) =>
    new Promise((resolve) => {
      const last = setTimeout(() => server.closeAllConnections(), grace);
      server.close(() => {
        clearTimeout(last);
        resolve();
      });
      isStopping = true;
      endIdle();
    });
};
