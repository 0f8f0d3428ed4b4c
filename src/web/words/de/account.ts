// Owns the words of one's own account in German: PIN, password, passkeys, where one is signed in.

import type { Words } from "../said.ts";

export const account: Words["account"] = {
  title: "Ihr Konto",
  youMay: (site) => `Sie dürfen bei ${site}`,
  oldPin: "Bisherige PIN",
  newPin: "Neue PIN",
  oldPassword: "Bisheriges Passwort",
  newPassword: "Neues Passwort",
  ownPassword: "Ihr Passwort",
  newPinHelp: "4 bis 8 Ziffern.",
  newPasswordHelp: "Mindestens zehn Zeichen. Mehrere Wörter sind besser als seltsame Zeichen.",
  changePin: "PIN ändern",
  changePassword: "Passwort ändern",
  pinChanged: "Die PIN ist geändert; wo Sie sonst angemeldet waren, sind Sie es nicht mehr.",
  passwordChanged: "Das Passwort ist geändert; wo Sie sonst angemeldet waren, sind Sie es nicht mehr.",
  passkeys: "Passkeys",
  passkeysHelp:
    "Ein Schlüssel, den Ihr Telefon, Ihr Rechner oder ein Sicherheitsstick behält, geöffnet mit Finger oder Gesicht. Er ersetzt das Passwort.",
  noPasskeys: "Noch keine.",
  passkeyName: "Wie er heißt",
  passkeyOwn: "Mein Schlüssel",
  addPasskey: "Passkey anlegen",
  passkeyAdded: "Er öffnet ab jetzt.",
  passkeyNeeds:
    "Ein Passkey braucht den Namen des Servers und eine sichere Verbindung; diese Seite wurde über eine Adresse geöffnet.",
  passkeyLine: (at, used) => `angelegt ${at}, benutzt ${used}`,
  passkeyAgain: "Versuchen Sie es noch einmal.",
  never: "nie",
  remove: "Entfernen",
  everywhere: "Überall abmelden",
  everywhereHelp: "Hier, auf jedem Gerät, und Ihre Programme.",
};
