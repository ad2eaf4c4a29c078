// Writes docs/lab-file.md, the lab file key by key, from the schema, so that the page and the program cannot differ.
// With --check it only compares and fails where the page is out of date.
import { readFileSync, writeFileSync } from 'node:fs';
import { labJsonSchema } from '../dist/index.mjs';

const page = new URL('../docs/lab-file.md', import.meta.url);
const schema = labJsonSchema();
const lines = [
  '# The lab file, key by key',
  '',
  'Made from the schema by `npm run docs`; do not edit by hand. A star marks keys that must be there.',
  '',
  'A *value* is a number with its unit (`1.2 m`), a plain number, or, in settings of instruments and steps, an',
  'expression of quantities (`2*R`).',
  '',
];

describeKeys(schema, 2, 'lab.yaml');
lines.push('## Kinds of instruments', '');
for (const kind of schema.properties.instruments.additionalProperties.oneOf) describeKind(kind);
for (const part of ['each run', 'across runs']) {
  lines.push(`## Steps of \`${part}\``, '');
  for (const step of schema.properties.reduction.properties[part].items.oneOf) describeStep(step);
}

const text = `${lines.join('\n').trimEnd()}\n`;
if (process.argv.includes('--check')) {
  if (readFileSync(page, 'utf8') !== text) {
    console.error('docs/lab-file.md is out of date. Run: npm run docs');
    process.exitCode = 1;
  }
} else {
  writeFileSync(page, text);
}

function describeKeys(object, level, name) {
  lines.push(`${'#'.repeat(level)} ${name}`, '');
  lines.push('| key | holds | what it says |', '| --- | --- | --- |');
  const inner = [];
  for (const [key, value] of Object.entries(object.properties ?? {})) {
    const star = object.required?.includes(key) ? ' *' : '';
    lines.push(`| \`${key}\`${star} | ${kindOf(value)} | ${cell(value.description ?? '')} |`);
    const deeper = objectIn(value);
    if (deeper !== null && !['instruments', 'reduction'].includes(key)) inner.push([key, deeper]);
  }
  if (object.properties !== undefined && typeof object.additionalProperties === 'object')
    lines.push(
      `| any other name | ${kindOf(object.additionalProperties)} | A map of quantities to their values. |`,
    );
  lines.push('');
  for (const [key, deeper] of inner) describeKeys(deeper, Math.min(level + 1, 4), `\`${key}\``);
}

/** The object whose keys are worth a table of their own: the value itself, what a map or a list holds. */
function objectIn(value) {
  if (value.properties !== undefined) return value;
  if (value.additionalProperties?.properties !== undefined) return value.additionalProperties;
  if (value.items?.properties !== undefined) return value.items;
  return null;
}

function describeKind(kind) {
  lines.push(`### \`${kind.properties.kind.const}\``, '', kind.description, '');
  describeSettings(kind, (key) => key !== 'kind');
}

function describeStep(step) {
  const [name] = Object.keys(step.properties);
  lines.push(`### \`${name}\``, '', step.description, '');
  describeSettings(step.properties[name], () => true);
}

function describeSettings(object, shown) {
  lines.push('| setting | holds | what it is |', '| --- | --- | --- |');
  for (const [key, value] of Object.entries(object.properties)) {
    if (!shown(key)) continue;
    const star = object.required?.includes(key) ? ' *' : '';
    lines.push(`| \`${key}\`${star} | ${kindOf(value)} | ${cell(value.description ?? '')} |`);
  }
  lines.push('');
}

function kindOf(value) {
  if (value.const !== undefined) return `\`${value.const}\``;
  if (value.enum !== undefined) return value.enum.map((choice) => `\`${choice}\``).join(' or ');
  if (value.anyOf !== undefined) {
    const kinds = [...new Set(value.anyOf.map(kindOf))];
    return kinds.includes('text') && kinds.includes('number') ? 'value' : kinds.join(' or ');
  }
  if (Array.isArray(value.type)) return 'value';
  switch (value.type) {
    case 'array':
      return `list of ${kindOf(value.items ?? {})}`;
    case 'object':
      return value.properties !== undefined
        ? 'map'
        : `map of names to ${kindOf(value.additionalProperties ?? {})}`;
    case 'integer':
      return 'whole number';
    case 'string':
      return 'text';
    case 'number':
      return 'number';
    default:
      return value.oneOf !== undefined ? 'one of the kinds below' : 'anything';
  }
}

function cell(text) {
  return text.replaceAll('|', '\\|').replaceAll('\n', ' ');
}
