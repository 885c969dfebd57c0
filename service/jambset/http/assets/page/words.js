// Words of the page in its language, from the table the server wrote into it.
const WORDS = JSON.parse(document.getElementById("words").textContent);

export const LANGUAGE = document.documentElement.lang;

/** The words of a code, with `{name}` filled from values. */
export function say(code, values = {}) {
  return WORDS[`page.${code}`].replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

/** The words for a code of the service's; its lists are open, so an unknown one is shown as it is. */
export function sayCode(family, code) {
  return WORDS[`page.${family}.${code}`] ?? code.replaceAll("_", " ");
}
