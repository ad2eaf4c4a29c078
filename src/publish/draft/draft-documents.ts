import { type Outcome, type Problem, succeed } from '../../problem/index.ts';
import {
  type DocumentKind,
  type LabDocumentTree,
  type Level,
  makeProvenance,
  type PrintSettings,
  type Provenance,
} from '../document/index.ts';
import type { Gathered } from '../gather/index.ts';
import { languageOf, phrasesOf } from '../language/index.ts';
import { draftAnswers } from './answers.ts';
import { assemble } from './assemble.ts';
import { createDesk, type Desk, foreignLanguage } from './desk.ts';
import { draftGuide } from './guide.ts';
import { draftHandout } from './handout.ts';
import { bareWords } from './names.ts';
import type { Section } from './section.ts';
import { draftDataSheet, draftEquipment, draftSetUpSheet } from './sheets.ts';
import { draftTalk, TALK_SECONDS } from './talk.ts';

/** What an author's texts make of drafted sections; the drafts as they are where there are no texts. */
export interface AuthorsTexts {
  /** Replaces and extends sections of a handout at a level. */
  handout(desk: Desk, level: Level, drafted: readonly Section[]): Outcome<readonly Section[]>;
  guide(desk: Desk, drafted: readonly Section[]): Outcome<readonly Section[]>;
  /** The list of sources that a document cites; nothing where it cites none. */
  references(desk: Desk, kind: DocumentKind, sections: readonly Section[]): readonly Section[];
}

export interface DraftRequest {
  readonly settings: PrintSettings;
  /** Name and SHA-256 of every file that the documents are made from. */
  readonly sources: Provenance['sources'];
  /** 'Benchwright 0.1.0'. */
  readonly madeBy: string;
  /** Words of the lab that were put into the language of the documents, each as it is now. */
  readonly translated?: ReadonlySet<string>;
  /** All kinds where left out. */
  readonly kinds?: readonly DocumentKind[];
  /** The levels that the lab names where left out. */
  readonly levels?: readonly Level[];
}

const ALL: readonly DocumentKind[] = [
  'handout',
  'teacher guide',
  'answer key',
  'equipment list',
  'set-up sheet',
  'data sheet',
  'talk',
];

/**
 * Drafts the documents of a lab: one handout a level, and one of every other kind.
 *
 * @param gathered every number that they hold
 * @param texts    the author's texts; null for drafts alone
 * @returns the trees in the order of the kinds, or every fault of the author's texts
 */
export function draftDocuments(
  gathered: Gathered,
  request: DraftRequest,
  texts: AuthorsTexts | null = null,
): Outcome<readonly LabDocumentTree[]> {
  const { settings } = request;
  const language = languageOf(settings.language);
  if (!language.ok) return language;
  const wording = { language: language.value, decimalMark: settings.decimalMark };
  const desk = createDesk(gathered, phrasesOf(language.value), wording, settings, request.translated);
  const foreign = foreignLanguage(gathered, settings);
  const provenance = makeProvenance(request.sources, settings, request.madeBy);
  const levels = request.levels ?? gathered.extras.levels;
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const take = (outcome: Outcome<readonly Section[]>, drafted: readonly Section[]): readonly Section[] => {
    if (outcome.ok) warnings.push(...outcome.warnings);
    else problems.push(...outcome.problems);
    return outcome.ok ? outcome.value : drafted;
  };
  const handouts = levels.map((level) => {
    const drafted = draftHandout(desk, level);
    return { level, sections: texts === null ? drafted : take(texts.handout(desk, level, drafted), drafted) };
  });
  const ofStudents = handouts.map(({ sections }) => sections);
  const build = (kind: DocumentKind, level: Level | null, sections: readonly Section[]): LabDocumentTree =>
    assemble(desk, kind, level, [...sections, ...(texts?.references(desk, kind, sections) ?? [])], {
      settings,
      provenance,
      titleLanguage: request.translated?.has(bareWords(desk.lab.title)) === true ? null : foreign,
    });
  const drafts: Readonly<Record<DocumentKind, () => readonly LabDocumentTree[]>> = {
    handout: () => handouts.map(({ level, sections }) => build('handout', level, sections)),
    'teacher guide': () => {
      const drafted = draftGuide(desk, ofStudents);
      return [
        build('teacher guide', null, texts === null ? drafted : take(texts.guide(desk, drafted), drafted)),
      ];
    },
    'answer key': () => [build('answer key', null, [draftAnswers(desk, ofStudents)])],
    'equipment list': () => [build('equipment list', null, draftEquipment(desk))],
    'set-up sheet': () => [build('set-up sheet', null, draftSetUpSheet(desk))],
    'data sheet': () => [build('data sheet', null, draftDataSheet(desk))],
    talk: () => [
      {
        ...build('talk', null, []),
        subtitle: desk.phrases.talk.subtitle(TALK_SECONDS / 60),
        blocks: draftTalk(desk),
      },
    ],
  };
  const documents = (request.kinds ?? ALL).flatMap((kind) => drafts[kind]());
  // The same fault of a text shows at every level; once is enough.
  return problems.length > 0 ? { ok: false, problems: once(problems) } : succeed(documents, once(warnings));
}

function once(problems: readonly Problem[]): readonly Problem[] {
  return [...new Map(problems.map((found) => [JSON.stringify(found), found])).values()];
}
