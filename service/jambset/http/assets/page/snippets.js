// The call that an answer came from, as a reader can run it: the shell, Python's and TypeScript's own means.

/**
 * Snippets by name. call: address; text: the body as it is sent; origin: of the service; language: of its prose; keyed:
 * whether a key is sent, which snippets take from KEY in the environment.
 */
export function snippets({ origin, call, text, language, keyed }) {
  const value = JSON.parse(text);
  const url = `${origin}${call}`;
  return {
    curl: curl(url, text, language, keyed),
    Python: python(url, value, language, keyed),
    TypeScript: typescript(url, value, language, keyed),
  };
}

/** The body goes in by the shell's standard input: as a word it may be no longer than 128 KiB, and houses are. */
function curl(url, text, language, keyed) {
  return `curl -sS ${quoted(url)} \\
  -H 'Content-Type: application/json' \\
  -H 'Accept: application/json' \\
  -H 'Accept-Language: ${language}' \\
${keyed ? `  -H "Authorization: Bearer $KEY" \\\n` : ""}  --data-binary @- <<'${END}'
${text}
${END}
`;
}

/** No line of JSON: none of its texts holds a line break. */
const END = "END";

/** A text as one word of a POSIX shell. */
const quoted = (text) => `'${text.replaceAll("'", `'\\''`)}'`;

function python(url, value, language, keyed) {
  return `import json
${keyed ? "import os\n" : ""}import urllib.request

body = ${pythonValue(value, "")}
headers = {"Content-Type": "application/json", "Accept": "application/json", "Accept-Language": "${language}"}
${keyed ? `headers["Authorization"] = "Bearer " + os.environ["KEY"]\n` : ""}request = urllib.request.Request(${JSON.stringify(url)}, data=json.dumps(body).encode(), headers=headers)
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

function typescript(url, value, language, keyed) {
  const own = keyed ? `, Authorization: \`Bearer \${process.env.KEY}\`` : "";
  return `const body = ${JSON.stringify(value, null, 2)};
const headers = { "Content-Type": "application/json", Accept: "application/json", "Accept-Language": "${language}"${own} };
const reply = await fetch(${JSON.stringify(url)}, { method: "POST", headers, body: JSON.stringify(body) });
const answer = await reply.json();
if (!reply.ok) throw new Error(JSON.stringify(answer));
console.log(JSON.stringify(answer, null, 2));

export {};
`;
}
