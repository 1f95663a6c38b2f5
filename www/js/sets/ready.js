// The sets that come with the page, each fetched when it is asked for.

/** @typedef {{ id: string, file: string, title: string }} Ready */

/** @param {string} name */
async function fetched(name) {
  const reply = await fetch(new URL(`../../sets/${name}`, import.meta.url));
  if (!reply.ok) throw new Error(`sets/${name} did not load`);
  return reply;
}

/** @type {Promise<Ready[]> | null} */
let list = null;

/** What there is; nothing where it does not load. @returns {Promise<Ready[]>} */
export function readySets() {
  list ??= fetched('index.json')
    .then((reply) => reply.json())
    .then((/** @type {{ file: string, title: string }[]} */ all) => all.map((one) => ({ ...one, id: `ready-${one.file.replace('.json', '')}` })))
    .catch(() => {
      list = null;
      return [];
    });
  return list;
}

/** The text of one of them. @param {string} id */
export async function readyText(id) {
  const one = (await readySets()).find((ready) => ready.id === id);
  if (!one) throw new Error(`there is no set ${id}`);
  return (await fetched(one.file)).text();
}
