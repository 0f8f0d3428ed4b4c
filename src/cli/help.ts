// Owns the help text: of the tool, and of each command from its own entry in the list.

import { ALWAYS, usage } from "./call.ts";
import type { Command } from "./command.ts";
import { COMMANDS } from "./commands.ts";
import { EXIT_TEXT } from "./exit.ts";

/** What `unmoor --help` says. */
export function describeTool(): string {
  const rows = [
    ...COMMANDS.map(({ name, summary }) => [name, summary] as const),
    ["version", "which version this is"] as const,
    ["help", "this text, or with a command its own"] as const,
  ];
  const wide = Math.max(...rows.map(([name]) => name.length)) + 2;
  return `unmoor plans, proves and controls the removal of a major assembly from a vehicle and its return.

${rows.map(([name, summary]) => `  ${name.padEnd(wide)}${summary}`).join("\n")}

Start with:  unmoor release demo/plover-28.vehicle.yaml --job clutch-plate
Each command: unmoor COMMAND --help. With --json it writes one JSON document, whose schema unmoor schema prints.

${EXIT_TEXT}
A planning and calculation aid: the maker's instructions, local codes and a competent person come first.`;
}

/** What `unmoor COMMAND --help` says. */
export function describeCommand(command: Command): string {
  const rows = [
    ...command.operands.map(({ name, text }) => [name, text] as const),
    ...[...command.flags, ...ALWAYS].map(
      ({ name, value, text }) => [`--${name}${value ? ` ${value}` : ""}`, text] as const,
    ),
  ];
  const wide = Math.max(...rows.map(([word]) => word.length)) + 2;
  return `${usage(command)}

${capital(command.summary)}.
${command.about}

${rows.map(([word, text]) => `  ${word.padEnd(wide)}${text}`).join("\n")}

Example:  ${command.example}

${EXIT_TEXT}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
