#!/usr/bin/env node
// Owns the process of the command line: its words, its streams and its exit code.

import { compileLater } from "./compiling.ts";
import { start } from "./start.ts";
import { openTerminal } from "./terminal.ts";

// A reader that has seen enough (`| head`) is no fault of the call.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit();
  throw error;
});

compileLater();
process.exitCode = await start(process.argv.slice(2), openTerminal());
