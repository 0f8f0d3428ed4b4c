// Owns the address of a tag that names no run: it leads to the run on this device whose vehicle has that connection.

import { useQuery } from "@tanstack/preact-query";
import { Link, Redirect } from "wouter-preact";
import { readTag, tagsOf } from "../../tag/index.ts";
import { takenAlong } from "../device/taking.ts";
import { Notice } from "../sheet/states.tsx";
import { useWords } from "../words/words.ts";
import { HAND, handPath } from "./address.ts";

export const TagAnywhere = ({ text }: { readonly text: string }) => {
  const words = useWords();
  const kept = useQuery({ queryKey: ["taken-along"], queryFn: takenAlong, staleTime: 0, networkMode: "always" });
  if (kept.data === undefined) return <p class="waiting busy">{words.hand.opening}</p>;
  const tag = readTag(text);
  const of = kept.data.find(
    ({ closed, brief }) =>
      closed === null &&
      "code" in tag &&
      tagsOf({ name: brief.vehicle, connections: brief.joints }).connectionOf(tag.code) !== undefined,
  );
  if (of !== undefined) return <Redirect to={handPath(of.run, "scan", { code: text })} replace />;
  return (
    <main class="work">
      <Notice what={words.hand.tagNone} mend={words.hand.tagNoneMend}>
        <Link class="button" href={HAND}>
          {words.hand.title}
        </Link>
      </Notice>
    </main>
  );
};
