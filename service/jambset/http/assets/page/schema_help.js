// What the contract says of a place in a request: its fields, the values it takes, and what they mean.

/** A schema with its references followed; what the outer one says of itself goes before. abouts: all descriptions. */
function resolved(contract, schema) {
  const { $ref: reference, ...own } = schema;
  if (!reference) return { abouts: [schema.description].filter(Boolean), ...schema };
  const name = reference.split("/").at(-1);
  const inner = resolved(contract, contract.components.schemas[name]);
  const abouts = own.description ? [own.description, ...inner.abouts] : inner.abouts;
  return { ...inner, ...own, abouts };
}

/** The kinds of value a schema lets stand, null left out; told apart by what `value` says of itself, where it does. */
export function alternatives(contract, schema, value) {
  const whole = resolved(contract, schema);
  const choices = whole.oneOf ?? whole.anyOf;
  if (!choices) return whole.type === "null" ? [] : [whole];
  const kinds = whole.discriminator;
  const named = kinds?.mapping[value?.[kinds.propertyName]];
  const { oneOf, anyOf, discriminator, ...outer } = whole;
  return (named ? [{ $ref: named }] : choices).flatMap((choice) =>
    alternatives(contract, choice, value).map((found) => within(outer, found)),
  );
}

/** One alternative with what the schema around it says. */
function within(outer, found) {
  const abouts = [...new Set([...outer.abouts, ...found.abouts])];
  const range = outer["x-plausible"] ?? found["x-plausible"];
  return { ...found, title: outer.title ?? found.title, abouts, "x-plausible": range };
}

/** The schemas for the value at a place. steps: names and numbers from the top; whole: the request so far. */
export function schemasAt(contract, root, steps, whole) {
  let found = [{ $ref: `#/components/schemas/${root}` }];
  let here = whole;
  for (const step of steps) {
    const value = tells(contract, found, step) ? undefined : here;
    found = found.flatMap((schema) => alternatives(contract, schema, value)).flatMap((schema) => below(schema, step));
    here = here?.[step];
  }
  return found.flatMap((schema) => alternatives(contract, schema, here));
}

/** Whether a field tells kinds apart: while it is written, it must not narrow what it could be. */
const tells = (contract, schemas, step) =>
  schemas.some((schema) => resolved(contract, schema).discriminator?.propertyName === step);

function below(schema, step) {
  const inner = typeof step === "number" ? schema.items : schema.properties?.[step];
  return inner ? [inner] : [];
}

/** Fields that may stand in the object at a place: name, whether required, and its schemas. */
export function fieldsAt(contract, root, steps, whole) {
  const fields = new Map();
  for (const schema of schemasAt(contract, root, steps, whole)) {
    for (const [name, inner] of Object.entries(schema.properties ?? {})) {
      const required = (schema.required ?? []).includes(name);
      if (!fields.has(name)) fields.set(name, { name, required, schemas: alternatives(contract, inner) });
    }
  }
  return [...fields.values()];
}

/** Values that a place takes, where they can be listed. */
export function choicesOf(schemas) {
  const listed = schemas.flatMap((schema) => schema.enum ?? ("const" in schema ? [schema.const] : truths(schema)));
  return [...new Set(listed)];
}

const truths = (schema) => (schema.type === "boolean" ? [true, false] : []);

/** What the contract says of a place: descriptions, plausible range, choices; null where it says nothing. */
export function aboutPlace(contract, root, steps, whole) {
  const schemas = schemasAt(contract, root, steps, whole);
  if (!schemas.length || !steps.length) return null;
  const parent = fieldsAt(contract, root, steps.slice(0, -1), whole);
  return { ...aboutSchemas(schemas), required: parent.some((field) => field.required && field.name === steps.at(-1)) };
}

/** The same of schemas already found. */
export function aboutSchemas(schemas) {
  const abouts = [...new Set(schemas.flatMap((schema) => schema.abouts))];
  return { abouts, range: schemas.find((schema) => schema["x-plausible"])?.["x-plausible"], choices: choicesOf(schemas) };
}
