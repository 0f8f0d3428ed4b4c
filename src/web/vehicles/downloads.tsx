// Owns taking the model away as plain files.

import type { Files } from "../engine/asked.ts";
import { useModel } from "../shop/model.tsx";
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

interface DownloadProps {
  readonly files: Files;
  readonly label: string;
}

/** A button for each file: a browser asks before it takes several at once. */
export const DownloadButtons = ({ files, label }: DownloadProps) => {
  const words = useWords();
  return (
    <p class="row">
      {files.map(({ path, text }) => (
        <button key={path} type="button" onClick={() => give(path, text)}>
          {files.length === 1 ? label : words.vehicle.downloadOf(path)}
        </button>
      ))}
    </p>
  );
};

export const Downloads = () => {
  const words = useWords();
  const { files } = useModel();
  return <DownloadButtons files={files} label={words.vehicle.download} />;
};
