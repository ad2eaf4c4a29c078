import { resolve } from 'node:path';
import { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import { sansFonts } from '../fonts/index.ts';

/** A root at which no file lies: all that a document shows is in memory. */
const ROOT = resolve('/benchwright-has-no-files');

/** How often characters that no font has may be replaced before this is a fault of ours. */
const ATTEMPTS = 4;

let shared: NodeCompiler | null = null;

/** The typesetter takes longer to wake than to work, so all documents share one. */
function compiler(): NodeCompiler {
  shared ??= NodeCompiler.create({
    workspace: ROOT,
    fontArgs: [{ fontBlobs: sansFonts().map((face) => Buffer.from(face)) }],
  });
  return shared;
}

/**
 * Markup as a tagged PDF after PDF/UA-1; the same markup gives the same bytes.
 *
 * A character that the fonts do not have is shown by its number, as U+1F600.
 *
 * @param images files in memory by name
 * @throws Error where the markup is wrong: an error or a warning of the typesetter is a fault of the writer
 */
export function typeset(markup: string, images: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const typesetter = compiler();
  typesetter.resetShadow();
  for (const [name, bytes] of images) typesetter.mapShadow(resolve(ROOT, name), Buffer.from(bytes));
  let content = markup;
  for (let attempt = 0; ; attempt++) {
    try {
      return typesetOnce(typesetter, content);
    } catch (error) {
      const missing = missingCharacters(error);
      if (missing.length === 0 || attempt >= ATTEMPTS) throw error;
      for (const character of missing) content = content.replaceAll(character, numberOf(character));
    }
  }
}

function typesetOnce(typesetter: NodeCompiler, content: string): Uint8Array {
  const compiled = typesetter.compile({ mainFileContent: content });
  const told = [compiled.takeDiagnostics(), compiled.takeWarnings()].flatMap((found) =>
    found === null ? [] : typesetter.fetchDiagnostics(found),
  );
  const { result } = compiled;
  if (result === null || told.length > 0) throw new Error(`The typesetter says: ${JSON.stringify(told)}`);
  const pdf = typesetter.pdf(result, { pdfStandard: 'ua-1', creationTimestamp: 0 });
  typesetter.evictCache(30);
  return Uint8Array.from(pdf);
}

function missingCharacters(error: unknown): readonly string[] {
  const message = error instanceof Error ? error.message : '';
  const texts = message.matchAll(/the text `\\*"(.+?)\\*"` could not be displayed/gu);
  return [...new Set([...texts].flatMap(([, text = '']) => [...readEscapes(text)]))].filter(
    (character) => (character.codePointAt(0) ?? 0) > 0x7e,
  );
}

/** Characters that the message itself writes as \u{200b}. */
function readEscapes(text: string): string {
  return text.replace(/\\+u\{([0-9a-f]+)\}/giu, (_all, digits: string) =>
    String.fromCodePoint(Number.parseInt(digits, 16)),
  );
}

function numberOf(character: string): string {
  const digits = (character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
  return `(U+${digits})`;
}
