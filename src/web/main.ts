// Owns the beginning: it is small, so that the words of one's language are asked for together with the page and not once that was read.

import "./look/look.css";
import { readSettings, wearSettings } from "./sheet/preferred.ts";
import { loadWords } from "./words/languages.ts";

const settings = readSettings();
wearSettings(settings);
const place = document.getElementById("sheet");
void Promise.all([import("./page.tsx"), loadWords(settings.language)]).then(([{ draw }, words]) => {
  if (place !== null) draw(place, settings, words);
});
