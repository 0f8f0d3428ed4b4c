// Owns the reading of a secret: from the terminal without showing it, else the next line of standard input.

import { createInterface } from "node:readline";

let lines: AsyncIterator<string> | undefined;

/** A PIN or a password, as it is typed or piped. */
export const readSecret = async (prompt: string): Promise<string> => {
  const { stdin, stderr } = process;
  if (!stdin.isTTY) {
    lines ??= createInterface({ input: stdin })[Symbol.asyncIterator]();
    const { value } = await lines.next();
    return typeof value === "string" ? value : "";
  }
  stderr.write(prompt);
  stdin.setRawMode(true);
  stdin.resume();
  return new Promise((resolve) => {
    let typed = "";
    const read = (bytes: Buffer) => {
      for (const letter of bytes.toString("utf8")) {
        if (letter === "\u0003") process.exit(130);
        if (letter === "\r" || letter === "\n") {
          stdin.setRawMode(false);
          stdin.pause();
          stdin.off("data", read);
          stderr.write("\n");
          resolve(typed);
          return;
        }
        typed = letter === "\u007f" || letter === "\b" ? typed.slice(0, -1) : typed + letter;
      }
    };
    stdin.on("data", read);
  });
};
