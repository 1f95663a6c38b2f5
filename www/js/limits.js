// How much the core takes of what is typed and chosen; it refuses more. tests/node/page.test.mjs holds them to the schemas.

/** The longest title of a set or an item, characters. */
export const LONGEST_TITLE = 80;
/** The longest note, characters. */
export const LONGEST_NOTE = 800;
/** The most items of a set. */
export const MOST_ENTRIES = 50;
/** The most rails that are asked for. */
export const MOST_RAILS = 6;
