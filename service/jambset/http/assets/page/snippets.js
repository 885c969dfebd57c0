// The call that an answer came from, as a reader can run it: the shell, Python's and TypeScript's own means.

/** Snippets by name. call: address; text: the body as it is sent; origin: of the service; language: of its prose. */
export function snippets({ origin, call, text, language }) {
  const value = JSON.parse(text);
  const url = `${origin}${call}`;
  return {
    curl: curl(url, text, language),
    Python: python(url, value, language),
    TypeScript: typescript(url, value, language),
  };
}

/** The body goes in by the shell's standard input: as a word it may be no longer than 128 KiB, and houses are. */
function curl(url, text, language) {
  return `curl -sS ${quoted(url)} \\
  -H 'Content-Type: application/json' \\
  -H 'Accept: application/json' \\
  -H 'Accept-Language: ${language}' \\
  --data-binary @- <<'${END}'
${text}
${END}
`;
}

/** No line of JSON: none of its texts holds a line break. */
const END = "END";

/** A text as one word of a POSIX shell. */
const quoted = (text) => `'${text.replaceAll("'", `'\\''`)}'`;

function python(url, value, language) {
  return `import json
import urllib.request

body = ${pythonValue(value, "")}
headers = {"Content-Type": "application/json", "Accept": "application/json", "Accept-Language": "${language}"}
request = urllib.request.Request(${JSON.stringify(url)}, data=json.dumps(body).encode(), headers=headers)
with urllib.request.urlopen(request, timeout=30) as reply:
    answer = json.load(reply)
print(json.dumps(answer, indent=2))
`;
}

/** A JSON value as Python writes it. A string of JSON is one of Python's as well. */
function pythonValue(value, indent) {
  if (value === null) return "None";
  if (typeof value === "boolean") return value ? "True" : "False";
  if (typeof value !== "object") return JSON.stringify(value);
  const deeper = `${indent}    `;
  const [open, close, parts] = Array.isArray(value)
    ? ["[", "]", value.map((item) => pythonValue(item, deeper))]
    : ["{", "}", Object.entries(value).map(([name, inner]) => `${JSON.stringify(name)}: ${pythonValue(inner, deeper)}`)];
  return parts.length ? `${open}\n${parts.map((part) => `${deeper}${part},\n`).join("")}${indent}${close}` : open + close;
}

function typescript(url, value, language) {
  return `const body = ${JSON.stringify(value, null, 2)};
const headers = { "Content-Type": "application/json", Accept: "application/json", "Accept-Language": "${language}" };
const reply = await fetch(${JSON.stringify(url)}, { method: "POST", headers, body: JSON.stringify(body) });
const answer = await reply.json();
if (!reply.ok) throw new Error(JSON.stringify(answer));
console.log(JSON.stringify(answer, null, 2));

export {};
`;
}
