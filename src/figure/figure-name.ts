/** A name for identifiers and file names: letters, digits and hyphens, never empty. */
export function figureName(...parts: readonly string[]): string {
  const name = parts
    .join('-')
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return /^[a-z]/.test(name) ? name : `figure-${name}`;
}
