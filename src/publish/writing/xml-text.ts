/**
 * Text as XML and HTML hold it. Characters that XML 1.0 forbids become U+FFFD; marks that turn the direction of
 * writing go, since a name could pretend with them to be another.
 */
export function xmlText(text: string): string {
  return cleanText(text).replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;');
}

/** Text within the quotes of an attribute. */
export function xmlAttribute(text: string): string {
  return xmlText(text).replace(/"/g, '&quot;').replace(/'/g, '&#39;').replace(/\s/g, ' ');
}

/** Text without characters that no document format holds. */
export function cleanText(text: string): string {
  return text
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '\ufffd')
    .replace(/[\u202a-\u202e\u2066-\u2069]/gu, '');
}
