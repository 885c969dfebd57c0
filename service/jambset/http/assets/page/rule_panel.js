// The panel that shows which rules stand behind a number: what each says, how binding it is, where it is written.
import { byId, element, fill } from "./dom.js";
import { rulesOf, slug, whyOf } from "./numbers.js";
import { look } from "./service.js";
import { say, sayCode } from "./words.js";

const looked = new Map();

/** Show the rules of a number in an answer. name, text: of the number, for the heading. */
export function showNumber(answer, { path, name, text }) {
  const { how, ids } = rulesOf(answer, path);
  const lead = ids.length ? say(`rule.${how}`) : say("rule.no_rule");
  return show(answer, { title: `${name}: ${text}`, why: whyOf(answer, path), lead, ids });
}

/** Show some rules by id. */
export const showRules = (answer, ids) => show(answer, { title: say("rule.title"), lead: "", ids });

async function show(answer, { title, why, lead, ids }) {
  const body = byId("rule-body");
  fill(byId("rule-title"), title);
  fill(body, element("p", {}, say("rule.looking")));
  byId("rule").showModal();
  const rules = await Promise.all(ids.map(lookUp));
  fill(body, why && element("p", {}, why), lead && element("p", { class: "lead" }, lead), ...rules.map((rule) => card(answer, rule)));
}

/** A rule of the catalogue, once for all; one that isn't there, or can't be had now, by its id alone. */
async function lookUp(id) {
  if (!inCatalogue(id)) return { id };
  if (!looked.has(id)) looked.set(id, look(`/v1/rules/${encodeURIComponent(id)}`));
  try {
    return await looked.get(id);
  } catch (fault) {
    looked.delete(id);
    return { id, fault };
  }
}

const STANDING = new Set(["rough_opening", "as_set", "floors_may_change", "head_line", "block_sizes"]);
const PROJECT = "project.";
/** Stands where common practice has no clause and no edition. */
const NONE = "none";

const inCatalogue = (id) => !STANDING.has(id) && !id.startsWith(PROJECT);

/** What a rule is called: by its title, as the answer has it where it cites the rule, or in our words where there is none. */
function titleOf({ id, title }, source) {
  if (STANDING.has(id)) return say(`rule.${id}`);
  if (id.startsWith(PROJECT)) return say("rule.project", { name: id.slice(PROJECT.length).replaceAll("_", " ") });
  return source?.title ?? title ?? id;
}

function card(answer, rule) {
  const source = answer.sources.find((entry) => entry.rule === rule.id);
  const checks = answer.checks.filter((check) => check.rule === rule.id);
  return element(
    "article",
    { class: "rule" },
    element("h3", { lang: source ? undefined : rule.title && rule.lang }, titleOf(rule, source)),
    rule.text && element("p", { lang: rule.lang }, rule.text),
    rule.fault && element("p", { class: "fault", lang: rule.fault.lang }, rule.fault.message),
    element("dl", {}, ...facts(rule, source).flatMap(([name, value]) => [element("dt", {}, say(name)), element("dd", {}, value)])),
    checks.length > 0 && element("ul", { class: "checks" }, ...checks.map((check) => element("li", {}, checkText(check)))),
  );
}

function facts(rule, source) {
  const cited = source && [
    ["rule.force", sayCode("force", source.force)],
    ["rule.document", source.document],
    ...[["rule.clause", source.clause], ["rule.edition", source.edition]].filter(([, named]) => named !== NONE),
    ["rule.verified", sayCode("verified", source.verified)],
  ];
  const address = inCatalogue(rule.id) && element("a", { href: `/v1/rules/${encodeURIComponent(rule.id)}` }, rule.id);
  return [...(cited ?? []), ["rule.id", address || element("code", {}, rule.id)]];
}

function checkText({ status, side, limit, actual, margin }) {
  const parts = [
    side && sayCode("side", side),
    sayCode("status", status),
    limit && say("rule.limit", { text: limit.text }),
    actual && say("rule.actual", { text: actual.text }),
    margin && say("rule.margin", { text: margin.text }),
  ];
  return parts.filter(Boolean).join("; ");
}

/** The name of a number in words. */
export const nameOf = (path) => sayCode("number", slug(path));
