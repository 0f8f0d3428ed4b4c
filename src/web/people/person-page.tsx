// Owns the page of one person, to whose foreman one is: what he is called, can and may do, his start secrets, where he is signed in, and sending him away.

import { Link } from "wouter-preact";
import { useMe } from "../shop/door.ts";
import { Away, DoorPage } from "../start/door-page.tsx";
import { useWords } from "../words/words.ts";
import { Ask } from "./ask.tsx";
import { ChangeForm } from "./change-form.tsx";
import { useMember } from "./members.ts";
import { OnlyWork } from "./only-work.tsx";
import { ResetSecrets } from "./reset-secrets.tsx";
import { SendAway } from "./send-away.tsx";
import { SessionList } from "./session-list.tsx";
import { Tries } from "./tries.tsx";

export const PersonPage = ({ person }: { readonly person: string }) => {
  const words = useWords();
  const path = `/people/${encodeURIComponent(person)}`;
  return (
    <DoorPage title={words.people.toPerson(person)} here="people">
      <Ask to={path}>
        <Person person={person} path={path} />
      </Ask>
    </DoorPage>
  );
};

const Person = ({ person, path }: { readonly person: string; readonly path: string }) => {
  const words = useWords();
  const me = useMe();
  const read = useMember(person);
  if (me === undefined) return null;
  const back = (
    <p>
      <Link href="/people">{words.people.toPeople}</Link>
    </p>
  );
  if (read.data === undefined)
    return read.error === null ? (
      <p class="waiting busy">{words.door.moment}</p>
    ) : (
      <>
        {back}
        <Away error={read.error} again={() => void read.refetch()} />
      </>
    );
  const { member } = read.data;
  const isOwn = member.person === me.person;
  const mayChange = me.by !== "pin";
  return (
    <div class="people person">
      {back}
      <header>
        <h1>{member.name}</h1>
        <p>{member.person}</p>
        {isOwn ? <Link href="/account">{words.account.title}</Link> : null}
      </header>
      {mayChange ? null : <OnlyWork to={path} />}
      <ChangeForm read={read.data} mayChange={mayChange} />
      {isOwn || !mayChange ? null : <ResetSecrets member={member} />}
      {isOwn || !mayChange ? null : <SessionList person={member.person} />}
      <Tries person={member.person} />
      {isOwn || !mayChange ? null : <SendAway read={read.data} />}
    </div>
  );
};
