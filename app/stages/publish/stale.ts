/** What is known of a set that was published. */
interface SetThere {
  readonly files: readonly unknown[];
  readonly settings: { readonly language: string } | null;
  /** SHA-256 of what it was made from, by file. */
  readonly sources?: Readonly<Record<string, string>> | undefined;
  /** Documents that are missing or were changed by hand. */
  readonly changed: readonly string[];
}

/**
 * Why published documents no longer match the lab, in the sentences of the command line.
 *
 * @param now digests of the lab's files, and of the lab file as it stands on the screen
 */
export function sayStale(set: SetThere, now: ReadonlyMap<string, string>): readonly string[] {
  if (set.files.length === 0) return [];
  const before = set.sources ?? {};
  const language = set.settings?.language ?? 'en';
  const isNew = (file: string): boolean => {
    const own = /^text\/(handout|guide)(?:\.([a-z]{2,3}))?\.md$/.exec(file);
    if (own === null || file in before || (own[2] !== undefined && own[2] !== language)) return false;
    // A text in the language itself goes first; the plain one beside it is not read.
    return own[2] !== undefined || !(`text/${own[1]}.${language}.md` in before);
  };
  const sources = [
    ...Object.entries(before).flatMap(([file, digest]) => {
      const found = now.get(file);
      if (found === digest) return [];
      return [`${file} ${found === undefined ? 'is gone' : 'has changed'}`];
    }),
    ...[...now.keys()].filter(isNew).map((file) => `${file} is new`),
  ];
  return [
    ...sources.map((says) => `${says} since the documents were published.`),
    ...set.changed.map(
      (file) => `published/${file} is missing, or was changed by hand after it was published.`,
    ),
  ];
}
