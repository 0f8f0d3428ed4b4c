// Owns taking the model away as plain files.

import type { Files } from "../engine/asked.ts";
import { useWords } from "../words/words.ts";

const give = (path: string, text: string): void => {
  const address = URL.createObjectURL(new Blob([text], { type: "application/yaml" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = path.split("/").at(-1) ?? path;
  link.click();
  // The browser has taken it by the next turn.
  setTimeout(() => URL.revokeObjectURL(address), 1000);
};

export const Downloads = ({ files }: { readonly files: Files }) => {
  const words = useWords();
  return (
    <p class="downloads">
      {files.map(({ path, text }) => (
        <button key={path} type="button" onClick={() => give(path, text)}>
          {files.length === 1 ? words.vehicle.download : words.vehicle.downloadOf(path)}
        </button>
      ))}
    </p>
  );
};
