// Owns the refusals of the server's door in German: by the English sentence, which is what the server says. One that is not here stays as it came.

/** Each with what stands in it, in the order of the groups. */
const SENTENCES: readonly (readonly [RegExp, (...parts: string[]) => string])[] = [
  [/^(.*) is no steward$/, (name) => `${name} betreut den Server nicht`],
  [/^(.*) is a steward$/, (name) => `${name} betreut den Server`],
  [/^(.*) is foreman of no site$/, (name) => `${name} leitet keinen Standort`],
  [/^(.*) is not foreman of (.*)$/, (name, other) => `${name} ist nicht Werkstattleiter von ${other}`],
  [/^(.*) belongs to no site$/, (name) => `${name} gehört zu keinem Standort`],
  [/^(.*) belongs to other sites as well$/, (name) => `${name} gehört auch zu anderen Standorten`],
  [
    /^(.*) belongs to a site whose foreman (.*) is not$/,
    (name, other) => `${name} gehört zu einem Standort, dessen Werkstattleiter ${other} nicht ist`,
  ],
  [/^(.*) does not belong to this site$/, (name) => `${name} gehört nicht zu diesem Standort`],
  [/^nobody here is called (.*)$/, (name) => `hier heißt niemand ${name}`],
  [/^there is no device (.*)$/, (id) => `es gibt kein Gerät ${id}`],
  [/^there is no site (.*)$/, (id) => `es gibt keinen Standort ${id}`],
  [/^person and PIN do not agree$/, () => "Name und PIN passen nicht zusammen"],
  [/^person and password do not agree$/, () => "Name und Passwort passen nicht zusammen"],
  [/^too many wrong tries; shut for (\d+) s more$/, (n) => `zu viele falsche Versuche; noch ${n} s gesperrt`],
  [/^too many wrong codes; shut for (\d+) s more$/, (n) => `zu viele falsche Codes; noch ${n} s gesperrt`],
  [
    /^the password has (\d+) characters, fewer than (\d+)$/,
    (n, least) => `das Passwort hat ${n} Zeichen, weniger als ${least}`,
  ],
  [/^the password has more than (\d+) characters$/, (most) => `das Passwort hat mehr als ${most} Zeichen`],
  [/^there are (\d+) passkeys already$/, (n) => `es gibt schon ${n} Passkeys`],
];

const PLAIN: Readonly<Record<string, string>> = {
  "too many wrong tries": "zu viele falsche Versuche",
  "too many sign in at this moment": "im Augenblick melden sich zu viele an",
  "this is a start PIN": "das ist eine Start-PIN",
  "this is a start password": "das ist ein Startpasswort",
  "the new PIN is the start PIN": "die neue PIN ist die Start-PIN",
  "the new password is the start password": "das neue Passwort ist das Startpasswort",
  "the start PIN was not used in time": "die Start-PIN wurde nicht rechtzeitig benutzt",
  "the start password was not used in time": "das Startpasswort wurde nicht rechtzeitig benutzt",
  "the PIN was changed at this moment": "die PIN wurde eben geändert",
  "the password was changed at this moment": "das Passwort wurde eben geändert",
  "a PIN is 4 to 8 digits": "eine PIN hat 4 bis 8 Ziffern",
  "this PIN is among those that are tried first": "diese PIN gehört zu denen, die man zuerst probiert",
  "this password is among those that are tried first": "dieses Passwort gehört zu denen, die man zuerst probiert",
  "a PIN is taken on a paired tablet of the site only": "eine PIN gilt nur auf einem gekoppelten Tablet des Standorts",
  "neither the old PIN nor the password is given": "weder die bisherige PIN noch das Passwort ist angegeben",
  "the old password is not given": "das bisherige Passwort fehlt",
  "after a PIN nothing of accounts is changed": "nach einer PIN wird an Konten nichts geändert",
  "this is oneself": "das sind Sie selbst",
  "nobody gives himself a role or a skill": "niemand gibt sich selbst eine Rolle oder Kenntnis",
  "nobody makes or unmakes himself a steward": "niemand macht sich selbst zum Betreuer des Servers oder hört damit auf",
  "only a steward makes a steward": "nur wer den Server betreut, macht andere dazu",
  "somebody else changed it since it was read": "inzwischen hat es jemand anders geändert",
  "somebody else changed it at this moment": "eben hat es jemand anders geändert",
  "somebody has set it up already": "jemand hat sie schon eingerichtet",
  "this is not the code": "das ist nicht der Code",
  "this device is paired already": "dieses Gerät ist schon gekoppelt",
  "the key is not shown to be this device's own": "der Schlüssel ist nicht als der dieses Geräts ausgewiesen",
  "it is not said at which site": "es ist nicht gesagt, an welchem Standort",
  "it is a while since the password was given": "das Passwort wurde vor einer Weile eingegeben",
  "nobody asked for this passkey, or too long ago": "nach diesem Passkey wurde nicht gefragt, oder vor zu langer Zeit",
  "this is no passkey for this place": "das ist kein Passkey für hier",
  "this passkey does not open here": "dieser Passkey öffnet hier nicht",
  "this passkey is kept already": "dieser Passkey ist schon da",
  "a passkey needs a name, not an address": "ein Passkey braucht einen Namen, keine Adresse",
  "there is no such session open": "diese Anmeldung ist nicht mehr offen",
  "nobody is signed in": "niemand ist angemeldet",
  "the server is not reachable": "der Server ist nicht erreichbar",
  "a fault of the server itself": "ein Fehler des Servers selbst",

  "A steward may.": "Wer den Server betreut, darf es.",
  "Another steward may.": "Ein anderer Betreuer des Servers darf es.",
  "Another foreman may, or a steward.": "Ein anderer Werkstattleiter darf es, oder wer den Server betreut.",
  "His foreman may, or a steward.": "Sein Werkstattleiter darf es, oder wer den Server betreut.",
  "Its foreman may, or a steward.": "Der Werkstattleiter dort darf es, oder wer den Server betreut.",
  "Another may.": "Ein anderer darf es.",
  "A foreman may.": "Ein Werkstattleiter darf es.",
  "A foreman gives him a role at his.": "Ein Werkstattleiter gibt ihm an seinem eine Rolle.",
  "A foreman opens it.": "Ein Werkstattleiter öffnet es.",
  "A steward adds it first.": "Wer den Server betreut, fügt ihn erst hinzu.",
  "A steward changes name and skills.": "Name und Kenntnisse ändert, wer den Server betreut.",
  "Ask its foreman.": "Fragen Sie den Werkstattleiter dort.",
  "Ask the foreman for another.": "Lassen Sie sich vom Werkstattleiter eine neue geben.",
  "Begin again.": "Beginnen Sie noch einmal.",
  "Do it with your own secret.": "Tun Sie es mit Ihrer eigenen PIN oder Ihrem Passwort.",
  "Give it; who has none asks the foreman for a start secret.":
    "Geben Sie sie an; wer nichts davon hat, lässt sich vom Werkstattleiter etwas zum Starten geben.",
  "It stands where the server was started; started anew, it shows another.":
    "Er steht dort, wo der Server gestartet wurde; neu gestartet zeigt er einen anderen.",
  "Open the page by the server's name.": "Öffnen Sie die Seite über den Namen des Servers.",
  "Read it again, then change that.": "Laden Sie es neu und ändern Sie dann das.",
  "Read it again.": "Laden Sie es neu.",
  "Remove one.": "Entfernen Sie einen.",
  "See the list of people.": "Sehen Sie in der Liste der Leute nach.",
  "See the list.": "Sehen Sie in der Liste nach.",
  "Sign in again, then make the passkey.": "Melden Sie sich noch einmal an und legen Sie ihn dann an.",
  "Sign in by password or passkey for this.": "Melden Sie sich dafür mit Passwort oder Passkey an.",
  "Sign in with the new one.": "Melden Sie sich mit der neuen Angabe an.",
  "Sign in.": "Melden Sie sich an.",
  "Sign in, then ask again.": "Melden Sie sich an und versuchen Sie es noch einmal.",
  "Sign with it, as described.": "Unterschreiben Sie damit wie beschrieben.",
  "Take a shorter one.": "Nehmen Sie ein kürzeres.",
  "Take another.": "Nehmen Sie etwas anderes.",
  "Take several words that nobody says of you.": "Nehmen Sie mehrere Wörter, die niemand mit Ihnen verbindet.",
  "Take several words.": "Nehmen Sie mehrere Wörter.",
  "Take so many.": "Nehmen Sie so viele.",
  "Try again, or use the password.": "Versuchen Sie es noch einmal, oder nehmen Sie das Passwort.",
  "Try again.": "Versuchen Sie es noch einmal.",
  "Use it to sign in.": "Melden Sie sich damit an.",
  "Use your password here, or have the foreman pair this device.":
    "Nehmen Sie hier Ihr Passwort, oder lassen Sie den Werkstattleiter dieses Gerät koppeln.",
  "Wait, or ask a foreman to open it.": "Warten Sie, oder bitten Sie einen Werkstattleiter, zu öffnen.",
  "Wait.": "Warten Sie.",
  "Whoever paired it withdraws it first.": "Wer es gekoppelt hat, entzieht es zuerst.",
  "See whether it runs, and the network.": "Sehen Sie nach, ob er läuft, und nach der Verbindung.",
  "It is in the server's log; tell whoever keeps it.":
    "Es steht im Protokoll des Servers; sagen Sie es dem, der ihn betreut.",
};

export const germanRefusal = (text: string): string => {
  const plain = PLAIN[text];
  if (plain !== undefined) return plain;
  for (const [shape, say] of SENTENCES) {
    const found = shape.exec(text);
    if (found !== null) return say(...found.slice(1));
  }
  return text;
};
