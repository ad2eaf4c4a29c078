/** The address of a link that may be followed from a document: web, mail, or a place in the same document; else null. */
export function safeLink(to: string): string | null {
  if (/^#[\p{L}\p{N}_.:-]+$/u.test(to)) return to;
  if (!/^(https?:\/\/|mailto:)[^\s<>"'\\]+$/i.test(to)) return null;
  return URL.canParse(to) ? new URL(to).href : null;
}
