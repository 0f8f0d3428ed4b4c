// The door of tag: the codes on the tags of a vehicle's connections, and their reading. Also for the browser: uses nothing.

export { ALPHABET, CODES, codeOf, isCode, LENGTH, writeCode } from "./code.ts";
export { readTag, type TagFault, type TagRead, tagPath } from "./read-tag.ts";
export { HALVES, type Tagged, type Tags, tagsOf } from "./tags.ts";
